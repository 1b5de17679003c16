import { describe, expect, it } from 'vitest';
import type { Verification } from '../../../src/formats/mhl/verification.ts';
import type { Receipt } from '../../../src/formats/turnover/receipt.ts';
import { receiptFile } from '../../../src/formats/turnover/receipt.ts';
import { receiptSheet } from '../../../src/formats/turnover/receipt-sheet.ts';
import type { ShotFile } from '../../../src/formats/turnover/shot-file.ts';
import { formatShot } from '../../../src/formats/turnover/shot-file.ts';
import { formatTurnover } from '../../../src/formats/turnover/turnover-file.ts';
import type { FolderEntry } from '../../../src/ports.ts';
import { receivePackage } from '../../../src/steps/receive/receive-package.ts';
import { planTurnover } from '../../../src/steps/turnover/plan-turnover.ts';
import { turnoverDay, turnoverOptions } from '../../support/make-turnover.ts';

const day = turnoverDay({ cut: [48, 60] });
const plan = planTurnover(day, turnoverOptions(day, { pictures: 'png', movies: true }));
const shot = plan.shots[0]?.file;
if (shot === undefined) throw new Error('no shot was planned');
const SEALED: Verification = { history: 'read', generations: 1, verifiedFiles: 90, hashedBytes: 900, problems: [] };

function filesOf(file: ShotFile, over: Readonly<Record<string, string>> = {}): Record<string, string> {
  const files: Record<string, string> = { 'turnover.json': formatTurnover(plan.turnover), [`SMR_027_0010/shot.json`]: formatShot(file), ...over };
  for (const { pictures, movie } of shot?.passes ?? []) {
    for (const { first, last } of pictures?.numbers ?? []) for (let number = first; number <= last; number++) files[(pictures?.files ?? '').replace('####', String(number))] = 'png';
    if (movie !== null) files[movie.file] = 'mov';
  }
  return files;
}

async function receive(files: Readonly<Record<string, string>>, verification = SEALED): Promise<Receipt> {
  const encoder = new TextEncoder();
  const entries = Object.entries(files).map(([file, text]): FolderEntry => ({ path: `/p/${file}`, file, kind: 'file', sizeBytes: text.length, modifiedMs: 0 }));
  const opened: string[] = [];
  const receipt = await receivePackage('/p', 't1', verification, {
    store: { listAll: async () => entries, readWhole: async (path) => encoder.encode(files[path.slice(3)]) },
    open: (path) => { opened.push(path); throw new Error(`opened ${path}`); },
    decode: (bytes) => new TextDecoder().decode(bytes),
    progress: { start() {}, advance() {}, done() {} },
  }, new AbortController().signal);
  expect(opened).toEqual([]);
  expect(receiptFile.parse(receipt)).toEqual(receipt);
  return receipt;
}

describe('receiving a package', () => {
  it('finds it whole when every frame and every movie is there', async () => {
    const receipt = await receive(filesOf(shot));
    expect(receipt).toMatchObject({ result: 'whole', findings: [], revision: 1, shots: [{ shot: 'SMR_027_0010', frames: { expected: 84, found: 84 }, result: 'whole' }] });
  });

  it('names the holes of a sequence by their numbers', async () => {
    const files = filesOf(shot);
    for (const number of [1003, 1004, 1009]) delete files[`SMR_027_0010/plates/lead/SMR_027_0010_lead.${number}.png`];
    const receipt = await receive(files);
    expect(receipt.findings).toMatchObject([{ code: 'sequence-hole', severity: 'stop', found: '25 of 28 frames; 1003-1004, 1009 not there' }]);
    expect(receipt.result).toBe('not whole');
  });

  it('misses a movie, a shot.json and a turnover.json', async () => {
    const files = filesOf(shot);
    delete files['SMR_027_0010/movies/SMR_027_0010_lead.mov'];
    expect((await receive(files)).findings).toMatchObject([{ code: 'file-missing', file: 'SMR_027_0010/movies/SMR_027_0010_lead.mov' }]);
    delete files['SMR_027_0010/shot.json'];
    expect((await receive(files)).findings).toMatchObject([{ code: 'file-missing', file: 'SMR_027_0010/shot.json' }]);
    expect(await receive({})).toMatchObject({ result: 'not whole', revision: 0, shots: [], findings: [{ code: 'file-missing', file: 'turnover.json' }] });
  });

  it.each(['../../etc/passwd.####.png', '/etc/x.####.png', 'SMR_027_0010\\plates\\x.####.png', 'SMR_027_0010/../other/x.####.png', 'other/x.####.png', 'SMR_027_0010/a\u0000.####.png', 'C:/x.####.png'])('opens nothing by the path %j', async (files) => {
    const passes = shot.passes.map((pass) => ({ ...pass, pictures: pass.pictures === null ? null : { ...pass.pictures, files } }));
    const receipt = await receive(filesOf({ ...shot, passes }));
    expect(receipt.findings.length).toBeGreaterThan(0);
    expect(new Set(receipt.findings.map(({ code }) => code))).toEqual(new Set(['path-unsafe']));
  });

  it('follows no folder out of the package', async () => {
    const turnover = { ...plan.turnover, shots: plan.turnover.shots.map((standing) => ({ ...standing, folder: '../elsewhere' })) };
    expect((await receive({ 'turnover.json': formatTurnover(turnover) })).findings).toMatchObject([{ code: 'path-unsafe', found: 'folder "../elsewhere": it climbs out with ".."' }]);
  });

  it('says what is wrong with a shot.json that is none, or of another shot', async () => {
    const files = filesOf(shot, { 'SMR_027_0010/shot.json': '{"schema":"gemel/shot/2"}' });
    files['SMR_027_0010/shot.json'] = '{"schema":"gemel/shot/2"}';
    expect((await receive(files)).findings).toMatchObject([{ code: 'manifest-invalid', file: 'SMR_027_0010/shot.json' }]);
    expect((await receive(filesOf({ ...shot, shot: 'SMR_099_0010' }))).findings).toMatchObject([{ code: 'manifest-invalid', found: 'shot SMR_099_0010' }]);
    const many = { ...shot, passes: shot.passes.map((pass) => ({ ...pass, pictures: pass.pictures === null ? null : { ...pass.pictures, numbers: [{ first: 1, last: 2_000_000_000 }] } })) };
    expect((await receive(filesOf(many))).result).toBe('not whole');
  });

  it('takes over what the seal says, and calls for a look at what is only extra', async () => {
    const problem = { code: 'file-extra', severity: 'warn', file: 'SMR_027_0010/notes.txt', place: '', found: 'a file no generation names', expected: 'only files on record', remedy: 'ask' } as const;
    const receipt = await receive(filesOf(shot), { ...SEALED, problems: [problem] });
    expect(receipt).toMatchObject({ result: 'look', shots: [{ result: 'look' }] });
    expect(receiptSheet(receipt, 'A4').heading.verdict).toMatchObject({ question: 'Package whole', answer: 'LOOK', reason: '0 that stop, 1 to look at.' });
  });
});
