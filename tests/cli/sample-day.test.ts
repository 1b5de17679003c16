import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fingerprintTree, repository, runGemel } from '../support/run-gemel.ts';
import type { GemelRun } from '../support/run-gemel.ts';

interface ReportedSet {
  readonly id: string;
  readonly slate: string;
  readonly verdict: string;
  readonly findings: readonly { readonly code: string; readonly severity: string }[];
}

/** The table of sample-media/README.md: set-up, the codes it names, the verdict it promises. */
function promised(): readonly { readonly slate: string; readonly verdict: string; readonly codes: readonly string[] }[] {
  const text = readFileSync(join(repository, 'sample-media', 'README.md'), 'utf8');
  return text
    .split('\n')
    .map((line) => line.split('|').map((cell) => cell.trim()))
    .filter((cells) => cells.length === 7 && /^[0-9]+[A-Z]?$/.test(cells[1] ?? ''))
    .map((cells) => ({ slate: cells[1] ?? '', verdict: cells[5] ?? '', codes: [...(cells[4] ?? '').matchAll(/`([a-z-]+)`/g)].map(([, code]) => code ?? '') }));
}

describe('the sample day', () => {
  const media = join(repository, 'sample-media', 'day-04');
  let out = '';
  let run: GemelRun;
  let before: readonly string[];
  let sets: readonly ReportedSet[];

  beforeAll(() => {
    out = mkdtempSync(join(tmpdir(), 'gemel-sample-'));
    before = fingerprintTree(media);
    run = runGemel(['demo', '--out', out], out);
    sets = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8')).sets;
  }, 180_000);
  afterAll(() => rmSync(out, { recursive: true, force: true }));

  it('ends with exit code 1, because some of its sets cannot be struck', () => {
    expect(run.err).toBe('');
    expect(run.code).toBe(1);
  });

  it('holds every set-up its README promises', () => {
    expect(promised().length).toBeGreaterThanOrEqual(12);
    for (const { slate } of promised()) expect(sets.map((set) => set.slate)).toContain(slate);
  });

  it.each(promised())('gives $slate the verdict "$verdict" its README promises', ({ slate, verdict }) => {
    expect(sets.find((set) => set.slate === slate)?.verdict).toBe(verdict);
  });

  it.each(promised().filter(({ codes }) => codes.length > 0))('finds in $slate what its README names', ({ slate, codes }) => {
    const found = sets.find((set) => set.slate === slate)?.findings.map(({ code }) => code) ?? [];
    expect(found).toEqual(expect.arrayContaining([...codes]));
  });

  it('raises no stop and no warning in the sets that are clean', () => {
    for (const { slate } of promised().filter(({ verdict }) => verdict === 'yes')) {
      expect(sets.find((set) => set.slate === slate)?.findings.filter(({ severity }) => severity !== 'note')).toEqual([]);
    }
  });

  it('prints a row a set and names what it made', () => {
    for (const { slate } of sets) expect(run.out).toMatch(new RegExp(`^${slate} `, 'm'));
    expect(run.out).toContain(join(out, 'report.json'));
    expect(run.out).toContain('never erase a card');
  });

  it('makes a sheet for each set and a repeat card for each that lacks a pass', () => {
    expect(readdirSync(join(out, 'sheets'))).toHaveLength(sets.length);
    // A set without any lead has nothing to repeat.
    const lacking = sets.filter(({ findings }) => findings.some(({ code, severity }) => code.startsWith('missing-') && severity === 'stop') && !findings.some(({ code }) => code === 'missing-lead-pass'));
    const cards = readdirSync(join(out, 'repeat-cards'));
    expect(cards.filter((file) => file.endsWith('.pdf'))).toHaveLength(lacking.length);
    expect(cards.filter((file) => file.endsWith('.html'))).toHaveLength(lacking.length);
  });

  it('touches nothing in the media folder', () => {
    expect(fingerprintTree(media)).toEqual(before);
  });

  it('gives the same bytes a second time, sheets and all, and leaves nothing of the first run behind', () => {
    const again = mkdtempSync(join(tmpdir(), 'gemel-sample-'));
    try {
      runGemel(['demo', '--out', again], again);
      const names = readdirSync(out, { recursive: true, encoding: 'utf8' }).toSorted();
      expect(readdirSync(again, { recursive: true, encoding: 'utf8' }).toSorted()).toEqual(names);
      for (const name of names.filter((one) => /\.(json|pdf|html)$/.test(one))) {
        expect(readFileSync(join(again, name)).equals(readFileSync(join(out, name))), name).toBe(true);
      }
    } finally {
      rmSync(again, { recursive: true, force: true });
    }
  }, 180_000);
});
