import { execFileSync } from 'node:child_process';
import { chmodSync, cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { DiskHistoryWriter } from '../../../src/adapters/filesystem/disk-history-writer.ts';
import { DiskPackageStore } from '../../../src/adapters/filesystem/disk-package-store.ts';
import { explainFailure } from '../../../src/adapters/filesystem/explain-failure.ts';
import { FileHasher } from '../../../src/adapters/hash/file-hasher.ts';
import { FastXmlReader } from '../../../src/adapters/xml/fast-xml-reader.ts';
import type { HashFormat } from '../../../src/formats/mhl/hash-format.ts';
import type { Verification } from '../../../src/formats/mhl/verification.ts';
import type { SealOptions } from '../../../src/steps/seal/plan-seal.ts';
import type { Sealed } from '../../../src/steps/seal/seal-folder.ts';
import { sealFolder } from '../../../src/steps/seal/seal-folder.ts';
import type { SealPorts } from '../../../src/steps/seal/seal-ports.ts';
import { verifyHistory } from '../../../src/steps/seal/verify-history.ts';
import { chainSchemaErrors, manifestSchemaErrors } from '../../support/mhl-schema.ts';
import { outsideProgram } from '../../support/outside.ts';
import { fingerprintTree } from '../../support/run-gemel.ts';

const OPTIONS: SealOptions = { formats: ['xxh64'], tool: { name: 'gemel', version: '0.1.0' }, hostname: 'cart-1', authors: [{ name: 'M. Okafor', role: 'DIT' }] };
const FILES: Readonly<Record<string, string>> = { 'Lead/A017C003.mov': 'lead', 'Swapped/A017C004.mov': 'swapped', 'Clean/A017C005.mov': 'clean', 'report.csv': 'file\n', 'empty.txt': '' };
const signal = new AbortController().signal;

let hasher: FileHasher;
let folder = '';
let hour = 0;

const ports = (): SealPorts => ({
  store: new DiskPackageStore(), hasher, writer: new DiskHistoryWriter(), xml: new FastXmlReader({ lists: true }), progress: { start() {}, advance() {}, done() {} },
  clock: { nowMs: () => Date.UTC(2026, 10, 24, hour), pause: async () => {} },
});
const put = (file: string, text: string, root = folder): void => {
  mkdirSync(dirname(join(root, file)), { recursive: true });
  writeFileSync(join(root, file), text);
};
/** Each generation an hour after the one before. */
const seal = async (over: Partial<SealOptions> = {}, root = folder): Promise<Sealed> => {
  hour++;
  return sealFolder(root, { ...OPTIONS, ...over }, ports(), signal);
};
const verify = async (root = folder): Promise<Verification> => verifyHistory(root, ports(), signal);
const told = ({ problems }: Pick<Verification, 'problems'>): readonly string[] => problems.map(({ code, severity, file, found }) => `${severity} ${code} ${file}: ${found}`);
const history = (root = folder): readonly string[] => readdirSync(join(root, 'ascmhl')).toSorted();
const generation = (number: number, root = folder): string => join(root, 'ascmhl', history(root)[number - 1] ?? '');
const spoil = (path: string, spoilt: (text: string) => string): void => {
  const text = readFileSync(path, 'utf8');
  const other = spoilt(text);
  expect(other).not.toBe(text);
  writeFileSync(path, other);
};

beforeAll(async () => {
  hasher = await FileHasher.open({ explain: explainFailure });
});
afterAll(async () => hasher[Symbol.asyncDispose]());
beforeEach(() => {
  folder = join(mkdtempSync(join(tmpdir(), 'gemel-seal-')), 'A017_T6WD');
  hour = 0;
  for (const [file, text] of Object.entries(FILES)) put(file, text);
});
afterEach(() => rmSync(dirname(folder), { recursive: true, force: true }));

describe('sealing a folder', () => {
  it('writes a first generation that is valid by the schemas and that verifying agrees with', async () => {
    const sealed = await seal({ formats: ['xxh64', 'md5', 'c4'] });
    expect(sealed).toEqual({ kind: 'sealed', generation: 1, manifest: 'ascmhl/0001_A017_T6WD_2026-11-24_010000Z.mhl', files: 5, bytes: 21, problems: [] });
    expect(history()).toEqual(['0001_A017_T6WD_2026-11-24_010000Z.mhl', 'ascmhl_chain.xml']);
    expect(await manifestSchemaErrors(readFileSync(generation(1), 'utf8'))).toEqual([]);
    expect(await chainSchemaErrors(readFileSync(join(folder, 'ascmhl/ascmhl_chain.xml'), 'utf8'))).toEqual([]);
    expect(await verify()).toEqual({ history: 'read', generations: 1, verifiedFiles: 5, hashedBytes: 21, problems: [] });
  });

  for (const [format, program, args] of [['xxh64', 'xxhsum', ['-H64']], ['xxh128', 'xxhsum', ['-H128']], ['md5', 'md5sum', []], ['sha1', 'sha1sum', []]] as const) {
    it.skipIf(!outsideProgram(program))(`records the ${format} that ${program} gives`, async () => {
      await seal({ formats: [format] });
      const manifest = readFileSync(generation(1), 'utf8');
      for (const file of Object.keys(FILES)) {
        const [digest = ''] = execFileSync(program, [...args, join(folder, file)], { encoding: 'utf8' }).split(' ');
        expect(manifest).toMatch(new RegExp(`>${file.replace('.', '\\.')}</path>\\s*<${format} action="original"[^>]*>${digest}</${format}>`));
      }
    });
  }

  it('gives the same bytes for the same folder at the same time', async () => {
    const copy = join(dirname(folder), 'copy', 'A017_T6WD');
    cpSync(folder, copy, { recursive: true, preserveTimestamps: true });
    await seal();
    hour--;
    await seal({}, copy);
    expect(history(copy)).toEqual(history());
    for (const name of history()) expect(readFileSync(join(copy, 'ascmhl', name), 'utf8').replaceAll(/ lastmodificationdate="[^"]*"/g, '')).toBe(readFileSync(join(folder, 'ascmhl', name), 'utf8').replaceAll(/ lastmodificationdate="[^"]*"/g, ''));
  });

  it('marks a second generation verified, new files original and altered ones failed, with the digest they have now', async () => {
    await seal();
    put('notes.txt', 'new');
    put('report.csv', 'changed');
    const second = await seal();
    const manifest = readFileSync(generation(2), 'utf8');
    expect(told(second)).toEqual([expect.stringMatching(/^stop file-altered report\.csv: xxh64 [0-9a-f]{16}, 7 bytes$/)]);
    expect(manifest).toMatch(/>notes\.txt<\/path>\s*<xxh64 action="original"/);
    expect(manifest).toMatch(/>Lead\/A017C003\.mov<\/path>\s*<xxh64 action="verified"/);
    expect(manifest).toMatch(new RegExp(`>report\\.csv</path>\\s*<xxh64 action="failed"[^>]*>${hasher.digest('xxh64', new TextEncoder().encode('changed'))}`));
    expect(await manifestSchemaErrors(manifest)).toEqual([]);
    // It stays altered whatever was recorded since; only the first bytes make it good.
    expect(told(await verify())).toHaveLength(1);
    put('report.csv', FILES['report.csv'] ?? '');
    expect(told(await verify())).toEqual([]);
  });

  it('checks a known file in a format on record before it vouches for a new one', async () => {
    await seal({ formats: ['xxh64'] });
    put('report.csv', 'changed');
    await seal({ formats: ['md5'] });
    const manifest = readFileSync(generation(2), 'utf8');
    expect(manifest).toMatch(/>Lead\/A017C003\.mov<\/path>\s*<md5 action="verified"[^>]*>\w+<\/md5>\s*<xxh64 action="verified"/);
    expect(manifest).toMatch(/>report\.csv<\/path>\s*<xxh64 action="failed"/);
    expect(manifest).not.toMatch(/>report\.csv<\/path>\s*<md5/);
  });

  it('records a rename once, with the path before, and none where two could be meant', async () => {
    await seal({ formats: ['md5'] });
    renameSync(join(folder, 'Lead'), join(folder, 'Hero'));
    const second = await seal();
    expect(told(second)).toEqual([]);
    expect(readFileSync(generation(2), 'utf8')).toMatch(/>Hero\/A017C003\.mov<\/path>\s*<md5 action="verified"[^]*?<xxh64 action="verified"[^>]*>\w+<\/xxh64>\s*<previousPath>Lead\/A017C003\.mov<\/previousPath>/);
    expect(told(await verify())).toEqual([]);
    await seal();
    expect(readFileSync(generation(3), 'utf8')).not.toContain('previousPath');
    rmSync(join(folder, 'Hero'), { recursive: true });
    put('x.mov', 'lead');
    put('y.mov', 'lead');
    expect(told(await seal())).toEqual(['stop file-missing Hero/A017C003.mov: not there']);
  });

  it('carries patterns on, and leaves out what they name', async () => {
    put('scratch/a.tmp', 'x');
    await seal({ ignore: ['*.tmp'] });
    put('b.tmp', 'y');
    await seal();
    for (const number of [1, 2]) expect(readFileSync(generation(number), 'utf8')).toContain('<pattern>*.tmp</pattern>');
    expect(readFileSync(generation(2), 'utf8')).not.toContain('.tmp</path>');
    expect(told(await verify())).toEqual([]);
  });

  it('gives nested histories a generation of their own first, and refers to them', async () => {
    await seal({}, join(folder, 'Lead'));
    hour = 5;
    const sealed = await seal();
    expect([sealed.files, history(join(folder, 'Lead'))]).toEqual([5, ['0001_Lead_2026-11-24_010000Z.mhl', '0002_Lead_2026-11-24_060000Z.mhl', 'ascmhl_chain.xml']]);
    const parent = readFileSync(generation(1), 'utf8');
    expect(parent).toContain('<path>Lead/ascmhl/0002_Lead_2026-11-24_060000Z.mhl</path>');
    expect(parent).not.toContain('A017C003');
    expect(await manifestSchemaErrors(parent)).toEqual([]);
    // The folder stands in the parent with the root digests of its own history.
    const root = /<roothash>\s*<content>\s*<xxh64>(\w+)<[^]*?<structure>\s*<xxh64>(\w+)</.exec(readFileSync(generation(2, join(folder, 'Lead')), 'utf8'));
    expect(parent).toMatch(new RegExp(`>Lead</path>\\s*<content>\\s*<xxh64>${root?.[1]}<[^]*?<structure>\\s*<xxh64>${root?.[2]}<`));
    expect(await verify()).toEqual(expect.objectContaining({ verifiedFiles: 5, problems: [] }));
    // A child may go on without its parent.
    put('Lead/more.txt', 'more');
    await seal({}, join(folder, 'Lead'));
    expect(told(await verify())).toEqual([]);
  });

  it.each([
    ['a link', () => symlinkSync('/etc', join(folder, 'etc')), /path-unsafe etc/],
    ['two names that differ in letter case alone', () => put('lead/b.mov', 'x'), /path-unsafe Lead/],
    ['a name with a back-slash', () => put('a\\b', 'x'), /path-unsafe a\\b/],
    ['a broken history', () => put('ascmhl/ascmhl_chain.xml', '<'), /manifest-invalid ascmhl\/ascmhl_chain\.xml/],
    ['nothing in it', () => Object.keys(FILES).forEach((file) => rmSync(join(folder, file))), /no file/],
  ])('refuses a folder with %s, and writes nothing', async (_what, spoilFolder, found) => {
    spoilFolder();
    const before = fingerprintTree(folder);
    const sealed = await seal();
    expect([sealed.kind, sealed.manifest]).toEqual(['refused', '']);
    expect(told(sealed).join('\n')).toMatch(found);
    expect(fingerprintTree(folder)).toEqual(before);
  });

  it('never writes over a generation, and leaves nothing unfinished behind', async () => {
    await seal();
    rmSync(join(folder, 'ascmhl/ascmhl_chain.xml'));
    expect((await seal()).kind).toBe('refused');
    await expect(new DiskHistoryWriter().write(generation(1), new Uint8Array(1), false)).rejects.toThrow('EEXIST');
    expect(history()).toHaveLength(1);
  });
});

describe('verifying a folder', () => {
  it('that carries no history says so and hashes nothing', async () => {
    expect(await verify()).toEqual(expect.objectContaining({ history: 'none', hashedBytes: 0, problems: [expect.objectContaining({ code: 'manifest-invalid', severity: 'stop' })] }));
  });

  it('finds a file altered in one byte, of the same length, in every format on record', async () => {
    await seal({ formats: ['xxh64', 'sha1'] });
    put('Lead/A017C003.mov', 'leab');
    const { problems, verifiedFiles } = await verify();
    expect([verifiedFiles, problems.length]).toEqual([4, 1]);
    expect(problems[0]).toMatchObject({ code: 'file-altered', severity: 'stop', file: 'Lead/A017C003.mov', found: expect.stringMatching(/^sha1 \w{40}, xxh64 \w{16}$/), expected: expect.stringContaining('(generation 1)') });
  });

  it('finds what is missing, what is new, and what only has another name', async () => {
    await seal();
    rmSync(join(folder, 'Clean'), { recursive: true });
    renameSync(join(folder, 'Swapped/A017C004.mov'), join(folder, 'Swapped/A017C009.mov'));
    put('stranger.exe', 'x');
    put('._report.csv', 'finder');
    expect(told(await verify())).toEqual([
      'note file-extra ._report.csv: left behind by an operating system',
      'stop file-missing Clean/A017C005.mov: not there',
      'warn file-missing Swapped/A017C004.mov: not there; the same bytes lie at Swapped/A017C009.mov',
      'warn file-extra stranger.exe: no generation names it',
    ]);
  });

  it('writes nothing and works where nothing may be written', async () => {
    await seal();
    const before = fingerprintTree(dirname(folder));
    chmodSync(join(folder, 'ascmhl'), 0o555);
    chmodSync(folder, 0o555);
    expect(told(await verify())).toEqual([]);
    chmodSync(folder, 0o755);
    chmodSync(join(folder, 'ascmhl'), 0o755);
    expect(fingerprintTree(dirname(folder))).toEqual(before);
  });

  it.each([
    ['an altered manifest', () => spoil(generation(1), (text) => text.replace('cart-1', 'cart-2')), /stop manifest-invalid ascmhl\/0001.*altered after it was written/],
    ['a manifest that is not there', () => rmSync(generation(1)), /stop manifest-invalid ascmhl\/0001.*it is not there/],
    ['a chain that is not there', () => rmSync(join(folder, 'ascmhl/ascmhl_chain.xml')), /stop manifest-invalid ascmhl\/ascmhl_chain\.xml: it is not there/],
    ['a manifest the chain does not list', () => cpSync(generation(1), join(folder, 'ascmhl/0002_A017.mhl')), /warn manifest-invalid ascmhl\/0002_A017\.mhl/],
    ['a manifest cut off in the middle', () => spoil(generation(1), (text) => text.slice(0, text.length / 2)), /stop manifest-invalid ascmhl\/0001.*cut off/],
    ['a manifest with a document type', () => spoil(generation(1), (text) => text.replace('?>', '?><!DOCTYPE hashlist [<!ENTITY a "b">]>')), /stop manifest-invalid ascmhl\/0001.*DOCTYPE/],
    ['a link in place of a manifest', () => (renameSync(generation(1), join(dirname(folder), 'elsewhere')), symlinkSync(join(dirname(folder), 'elsewhere'), join(folder, 'ascmhl/0001_A017_T6WD_2026-11-24_010000Z.mhl'))), /stop path-unsafe ascmhl\/0001/],
    ['something else in the history', () => put('ascmhl/run-me.sh', 'x'), /warn file-extra ascmhl\/run-me\.sh/],
    ['a file turned into a link', () => (rmSync(join(folder, 'report.csv')), symlinkSync('/etc/hostname', join(folder, 'report.csv'))), /stop path-unsafe report\.csv: a link/],
    ['a name that another system takes for another', () => put('REPORT.csv', 'x'), /stop path-unsafe REPORT\.csv/],
    ['an empty folder nobody recorded', () => mkdirSync(join(folder, 'empty')), /note file-extra empty/],
  ])('tells of %s', async (_what, spoilFolder, found) => {
    await seal();
    spoilFolder();
    expect(told(await verify()).join('\n')).toMatch(found);
  });

  it('opens nothing by a path that leads out, whatever the manifest says', async () => {
    put('../outside.txt', 'secret');
    await seal();
    const opened: string[] = [];
    spoil(generation(1), (text) => text.replace('>report.csv<', '>../outside.txt<'));
    const found = await verifyHistory(folder, { ...ports(), hasher: { filesAtOnce: 1, digest: hasher.digest, expect() {}, hashFile: async (path, ...rest) => (opened.push(path), hasher.hashFile(path, ...rest)) } }, signal);
    expect(told(found).join('\n')).toMatch(/stop path-unsafe ascmhl\/0001\S*: path "\.\.\/outside\.txt": it climbs out/);
    expect(opened.filter((path) => !path.startsWith(`${folder}/`) || path.includes('..'))).toEqual([]);
  });

  it('holds folders against the latest generation, content and structure apart', async () => {
    await seal();
    const chain = join(folder, 'ascmhl/ascmhl_chain.xml');
    const manifest = readFileSync(generation(1), 'utf8');
    const structure = /<roothash>[^]*?<structure>\s*<xxh64>(\w+)</.exec(manifest)?.[1] ?? '';
    const wrong = manifest.replace(structure, '0123456789abcdef');
    writeFileSync(generation(1), wrong);
    spoil(chain, (text) => text.replace(/<c4>.*<\/c4>/, `<c4>${hasher.digest('c4', new TextEncoder().encode(wrong))}</c4>`));
    expect(told(await verify())).toEqual([`warn manifest-invalid ascmhl/0001_A017_T6WD_2026-11-24_010000Z.mhl: structure xxh64 ${structure}, though every file is as recorded`]);
  });

  it('does not hold an older generation\'s folders against files added since', async () => {
    await seal();
    put('added.txt', 'later');
    await seal();
    expect(told(await verify())).toEqual([]);
  });

  it('tells of a nested history that is gone or altered', async () => {
    await seal({}, join(folder, 'Lead'));
    await seal();
    spoil(generation(2, join(folder, 'Lead')), (text) => text.replace('cart-1', 'cart-2'));
    expect(told(await verify()).join('\n')).toMatch(/stop manifest-invalid Lead\/ascmhl\/0002.*altered after/);
    expect(told(await verify()).join('\n')).toMatch(/stop manifest-invalid ascmhl\/0001\S*: "Lead\/ascmhl\/0002/);
    rmSync(join(folder, 'Lead/ascmhl'), { recursive: true });
    expect(told(await verify()).join('\n')).toMatch(/stop manifest-invalid ascmhl\/0001\S*: "Lead\/ascmhl\/0002\S*" is not there/);
  });

  it('takes a name for the same whichever way its accent is written, as long as one of them is there', async () => {
    put('caf\u00e9/caf\u00e9.mov', 'x');
    await seal();
    renameSync(join(folder, 'caf\u00e9'), join(folder, 'cafe\u0301'));
    renameSync(join(folder, 'cafe\u0301/caf\u00e9.mov'), join(folder, 'cafe\u0301/cafe\u0301.mov'));
    expect(told(await verify())).toEqual([]);
  });

  it('says which files could not be read and goes on with the others', async () => {
    await seal();
    const refused: HashFormat[] = [];
    const found = await verifyHistory(folder, { ...ports(), hasher: { filesAtOnce: 2, digest: hasher.digest, expect() {}, hashFile: async (path, formats, ...rest) => {
      if (path.endsWith('report.csv')) throw explainFailure(Object.assign(new Error('read'), { code: 'EIO' }));
      refused.push(...formats);
      return hasher.hashFile(path, formats, ...rest);
    } } }, signal);
    expect(told(found)).toEqual(['stop unreadable-file report.csv: the disk gave a read error']);
    expect(found.verifiedFiles).toBe(4);
  });

  it('stops at once when asked to', async () => {
    await seal();
    const controller = new AbortController();
    controller.abort(new Error('enough'));
    await expect(verifyHistory(folder, ports(), controller.signal)).rejects.toThrow('enough');
    expect(existsSync(join(folder, 'ascmhl'))).toBe(true);
  });
});
