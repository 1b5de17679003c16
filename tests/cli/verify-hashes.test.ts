import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openSealPorts } from '../../src/pipeline/verify-hashes.ts';
import { sealFolder } from '../../src/steps/seal/seal-folder.ts';
import { fingerprintTree, repository, runGemel } from '../support/run-gemel.ts';

interface Reported {
  readonly findings: readonly { readonly code: string; readonly severity: string; readonly consequence: string }[];
  readonly sets: readonly { readonly verdict: string; readonly findings: readonly { readonly code: string; readonly severity: string; readonly subject: readonly string[] }[] }[];
}

describe('gemel check --verify-hashes', () => {
  let folder = '';
  let card = '';
  let clip = '';
  const check = (...more: readonly string[]): { readonly code: number | null; readonly out: string; readonly err: string; readonly report: Reported } => {
    const out = join(folder, 'out');
    const run = runGemel(['check', join(folder, 'media'), '--out', out, '--no-sheets', ...more], folder);
    return { ...run, report: JSON.parse(readFileSync(join(out, 'report.json'), 'utf8')) };
  };

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'gemel-verify-'));
    const day = join(repository, 'sample-media', 'day-04');
    const name = readdirSync(day).find((one) => /^A\d{3}_/.test(one)) ?? '';
    card = join(folder, 'media', name);
    cpSync(join(day, name), card, { recursive: true });
    cpSync(join(day, 'reports'), join(folder, 'media', 'reports'), { recursive: true });
    clip = readdirSync(card).filter((one) => one.endsWith('.mov')).toSorted()[0] ?? '';
    await using ports = await openSealPorts({ start() {}, advance() {}, done() {} });
    await sealFolder(card, { formats: ['xxh64', 'md5'], tool: { name: 'gemel', version: '0.1.0' }, hostname: 'cart-1' }, ports, new AbortController().signal);
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('says how many files agree, adds no finding, and writes nothing into the media', () => {
    const before = fingerprintTree(join(folder, 'media'));
    const { out, report } = check('--verify-hashes');
    expect(out).toMatch(/^Hash lists +\d+ files agree with theirs, .* read \(A\d{3}_\w+\)$/m);
    expect(report.findings.map(({ code }) => code).filter((code) => /^(file-|manifest-|path-)/.test(code))).toEqual([]);
    expect(fingerprintTree(join(folder, 'media'))).toEqual(before);
  });

  it('finds a clip altered in its last byte, of the day and in its set, and ends with 1; without being asked it does not look', () => {
    const path = join(card, clip);
    const bytes = readFileSync(path);
    const last = bytes.length - 1;
    writeFileSync(path, Buffer.concat([bytes.subarray(0, last), Buffer.from([(bytes[last] ?? 0) ^ 1])]));
    const asked = check('--verify-hashes');
    expect(asked.code).toBe(1);
    expect(asked.report.findings.filter(({ code }) => code === 'file-altered')).toEqual([expect.objectContaining({ severity: 'stop', consequence: expect.stringContaining(clip) })]);
    const inSets = asked.report.sets.flatMap(({ verdict, findings }) => findings.filter(({ code }) => code === 'file-altered').map(({ severity, subject }) => ({ verdict, severity, subject })));
    expect(inSets).toContainEqual(expect.objectContaining({ subject: [expect.stringContaining(clip)] }));
    expect(check().report.findings.filter(({ code }) => code === 'file-altered')).toEqual([]);
    writeFileSync(path, bytes);
  });

  it('says so when there is nothing to hold anything against', () => {
    rmSync(join(card, 'ascmhl'), { recursive: true });
    expect(check('--verify-hashes').err).toContain('no card carries an ASC MHL hash list');
  });
});
