import { chmodSync, cpSync, existsSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Receipt } from '../../src/formats/turnover/receipt.ts';
import { receiptFile } from '../../src/formats/turnover/receipt.ts';
import type { ShotFile } from '../../src/formats/turnover/shot-file.ts';
import { shotFile } from '../../src/formats/turnover/shot-file.ts';
import { turnoverFile } from '../../src/formats/turnover/turnover-file.ts';
import { sharedFolder } from '../support/make-media.ts';
import { fingerprintTree, runGemel } from '../support/run-gemel.ts';
import type { GemelRun } from '../support/run-gemel.ts';
import { makeSmallDay, writeCut } from '../support/small-day.ts';

const LEAD_27B = 'A003C001_261125_R7QK.mov';
const LEAD_31C = 'A003C004_261125_R7QK.mov';
let folder = '';

beforeAll(async () => {
  folder = sharedFolder();
  await makeSmallDay(folder);
  writeCut(join(folder, 'cut_v1.edl'), [
    ['SMR_027_0100', LEAD_27B, '14:22:01:00', '14:22:02:00', '01:00:00:00', '01:00:01:00'],
    ['SMR_031_0010', LEAD_31C, '15:02:00:12', '15:02:01:12', '01:00:01:00', '01:00:02:00'],
  ]);
  // The first shot begins 2 frames earlier and ends 6 later, so the second only moves; a third is new.
  writeCut(join(folder, 'cut_v2.edl'), [
    ['SMR_027_0100', LEAD_27B, '14:22:00:22', '14:22:02:06', '01:00:00:00', '01:00:01:08'],
    ['SMR_031_0010', LEAD_31C, '15:02:00:12', '15:02:01:12', '01:00:01:08', '01:00:02:08'],
    ['SMR_031_0020', LEAD_31C, '15:02:02:00', '15:02:03:00', '01:00:02:08', '01:00:03:08'],
  ]);
});

function gemel(...args: readonly string[]): GemelRun {
  return runGemel(args, folder);
}

function text(...path: readonly string[]): string {
  return readFileSync(join(folder, ...path), 'utf8');
}

function shotIn(...path: readonly string[]): ShotFile {
  return shotFile.parse(JSON.parse(text(...path, 'shot.json')));
}

function receiptAt(...path: readonly string[]): Receipt {
  return receiptFile.parse(JSON.parse(text(...path)));
}

describe('from the cut to the vendor and back', () => {
  it('goes from a cut to a sealed package with one command, and the vendor finds it whole with nothing but Node', () => {
    const made = gemel('turnover', 'show.yaml', '--cut', 'cut_v1.edl', '--out', 'vendor/t1', '--frames', 'dpx', '--movies', '--hash', 'xxh64', 'xxh128');
    expect(made.err).toBe('');
    expect(made.code).toBe(0);
    expect(readdirSync(join(folder, 'vendor')).toSorted()).toEqual(['t1']);
    expect(readdirSync(join(folder, 'vendor', 't1')).toSorted()).toEqual(['SMR_027_0100', 'SMR_031_0010', 'ascmhl', 'changes.csv', 'count-sheet.csv', 'turnover.json']);
    const shot = shotIn('vendor', 't1', 'SMR_027_0100');
    expect(shot.numbers).toEqual({ first: 1001, last: 1040 });
    expect(shot.cut).toEqual({ first: 1009, last: 1032 });
    expect(shot.record).toEqual({ in: '01:00:00:00', out: '01:00:01:00', rate: '24/1' });
    expect(shot.passes[0]?.source).toEqual({ first: 16, last: 55, timecodeFirst: '14:22:00:16', timecodeLast: '14:22:02:07' });
    expect(shot.passes[0]?.pictures?.colour).toContain('no transfer function, gamut or look');
    const received = runGemel(['receive', 'vendor/t1'], folder, { PATH: '/nowhere', GEMEL_FFMPEG: '/nowhere/ffmpeg', GEMEL_FFPROBE: '/nowhere/ffprobe' });
    expect(received.err).toBe('');
    expect(received.code).toBe(0);
    expect(receiptAt('vendor', 't1-receipt.json')).toMatchObject({ result: 'whole', findings: [], shots: [{ frames: { expected: 120, found: 120 }, headers: { checked: 120, differ: 0 } }, {}] });
    expect(readFileSync(join(folder, 'vendor', 't1-receipt.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
  });

  it('says of a changed cut what changed in each shot, packages only what needs other plates, and keeps every frame’s number', () => {
    const made = gemel('turnover', 'show.yaml', '--cut', 'cut_v2.edl', '--out', 'vendor/t2', '--frames', 'dpx');
    expect(made.err).toBe('');
    expect(made.code).toBe(0);
    const turnover = turnoverFile.parse(JSON.parse(text('vendor', 't2', 'turnover.json')));
    expect(turnover).toMatchObject({ revision: 2, previous: { package: 't1', revision: 1 }, leftOut: [], dropped: [] });
    expect(turnover.shots.map(({ shot, folder: packaged, packagedIn, change }) => [shot, packaged, packagedIn, change.kinds])).toEqual([
      ['SMR_027_0100', 'SMR_027_0100', 2, ['longer']],
      ['SMR_031_0010', null, 1, ['moved']],
      ['SMR_031_0020', 'SMR_031_0020', 2, ['new']],
    ]);
    expect(turnover.shots[0]?.change.words).toEqual(['2 frames more at the head (999-1000): all there.', '6 frames more at the tail (1041-1046): all there.']);
    const before = shotIn('vendor', 't1', 'SMR_027_0100');
    const after = shotIn('vendor', 't2', 'SMR_027_0100');
    expect(after).toMatchObject({ revision: 2, numbers: { first: 999, last: 1046 }, cut: { first: 1007, last: 1038 } });
    const sourceFrame = ({ passes: [lead] }: ShotFile, number: number): number => (lead?.source?.first ?? 0) + number - (lead?.numbers?.first ?? 0);
    expect(sourceFrame(after, 1020)).toBe(sourceFrame(before, 1020));
    expect(readFileSync(join(folder, 'vendor', 't2', 'SMR_027_0100', 'plates', 'lead', 'SMR_027_0100_lead.1020.dpx')).equals(readFileSync(join(folder, 'vendor', 't1', 'SMR_027_0100', 'plates', 'lead', 'SMR_027_0100_lead.1020.dpx')))).toBe(true);
  });

  it('gives a clean receipt for the second package on a volume that takes no writing', () => {
    const place = join(folder, 'vendor', 't2');
    chmodSync(place, 0o555);
    const before = fingerprintTree(place);
    const received = gemel('receive', 'vendor/t2', '--out', 'receipts');
    expect(received.err).toBe('');
    expect(received.code).toBe(0);
    expect(receiptAt('receipts', 't2-receipt.json')).toMatchObject({ result: 'whole', revision: 2, findings: [] });
    expect(fingerprintTree(place)).toEqual(before);
    chmodSync(place, 0o755);
  });

  it('makes no package when the cut has not changed, and says so', () => {
    const made = gemel('turnover', 'show.yaml', '--cut', 'cut_v2.edl', '--out', 'vendor/t3', '--frames', 'dpx');
    expect(made.code).toBe(0);
    expect(made.out).toContain('Nothing to package: no shot needs other plates than it has.');
    expect(existsSync(join(folder, 'vendor', 't3'))).toBe(false);
  });

  it('finds a byte that changed, a frame that is gone, one that is too many and a link out of the package', () => {
    const damaged = join(folder, 'damaged');
    cpSync(join(folder, 'vendor', 't2'), damaged, { recursive: true });
    const plates = join(damaged, 'SMR_027_0100', 'plates', 'lead');
    const frame = join(plates, 'SMR_027_0100_lead.1010.dpx');
    const bytes = readFileSync(frame);
    // The seconds of the timecode word (SMPTE ST 268-1, byte 1920).
    bytes[1922] = 0x33;
    writeFileSync(frame, bytes);
    rmSync(join(plates, 'SMR_027_0100_lead.1015.dpx'));
    writeFileSync(join(plates, 'SMR_027_0100_lead.1999.dpx'), 'too many');
    symlinkSync('/etc/hostname', join(damaged, 'SMR_027_0100', 'notes.txt'));
    const received = gemel('receive', 'damaged');
    expect(received.code).toBe(1);
    const receipt = receiptAt('damaged-receipt.json');
    const found = receipt.findings.map(({ code, file }) => `${code} ${file.slice(file.lastIndexOf('/') + 1)}`);
    expect(found).toEqual(expect.arrayContaining([
      'file-altered SMR_027_0100_lead.1010.dpx', 'header-differs SMR_027_0100_lead.####.dpx', 'file-missing SMR_027_0100_lead.1015.dpx', 'sequence-hole SMR_027_0100_lead.####.dpx',
      'file-extra SMR_027_0100_lead.1999.dpx', 'path-unsafe notes.txt',
    ]));
    expect(receipt.result).toBe('not whole');
    expect(receipt.shots.map(({ shot, result }) => [shot, result])).toEqual([['SMR_027_0100', 'not whole'], ['SMR_031_0020', 'whole']]);
  });

  it('loses no event of a cut in silence: a bad line, a clip that is not here, each with an earlier package and without', () => {
    const good = text('cut_v2.edl');
    const [bad = '', absent = ''] = good.split('\r\n').filter((line) => /^00[12]/.test(line));
    const doubtful = good.replace(bad, bad.replace('14:22:02:06', '14:22:02')).replace(`${absent}\r\n* FROM CLIP NAME: A003C004`, `${absent.replace('A003C004', 'A009C004')}\r\n* FROM CLIP NAME: A009C004`);
    writeFileSync(join(folder, 'cut_doubt.edl'), doubtful);
    for (const before of [['--previous', 'vendor/t1'], []]) {
      const made = gemel('turnover', 'show.yaml', '--cut', 'cut_doubt.edl', '--out', `doubt/${before.length}/t9`, '--all', ...before);
      expect(made.code).toBe(1);
      expect(made.out).toMatch(/Left out:\nSMR_027_0100 {2}in doubt/);
      expect(made.out).toMatch(/^SMR_031_0010 {2}in doubt/m);
      for (const reason of ['found "14:22:02" where a timecode belongs', 'expected a clip that is here']) expect(made.out).toContain(reason);
      expect(made.out).not.toContain('dropped');
      const place = ['doubt', String(before.length), 't9'];
      for (const file of ['count-sheet.csv', 'changes.csv', 'turnover.json']) for (const shot of ['SMR_027_0100', 'SMR_031_0010']) expect(text(...place, file)).toMatch(new RegExp(`${shot}[^]*line \\d+`));
      const turnover = turnoverFile.parse(JSON.parse(text(...place, 'turnover.json')));
      expect(turnover.dropped).toEqual([]);
      expect(turnover.shots.filter((shot) => shot.folder !== null).map(({ shot }) => shot)).toEqual(['SMR_031_0020']);
    }
  });

  it('receives no folder that is no package, and writes nothing beside it', () => {
    const before = readdirSync(folder).toSorted();
    const received = gemel('receive', 'media');
    expect(received.code).toBe(2);
    expect(received.err).toContain('no gemel package here (expected turnover.json and a folder ascmhl');
    expect(readdirSync(folder).toSorted()).toEqual(before);
  });

  it('never changes a package that is there, and writes nothing in a dry run', () => {
    const again = gemel('turnover', 'show.yaml', '--cut', 'cut_v1.edl', '--out', 'vendor/t1');
    expect(again.code).toBe(2);
    expect(again.err).toContain('is there already, and a package that was handed over is never changed');
    const dry = gemel('turnover', 'show.yaml', '--cut', 'cut_v1.edl', '--out', 'elsewhere/t1', '--dry-run');
    expect(dry.code).toBe(0);
    expect(JSON.parse(dry.out).shots).toHaveLength(2);
    expect(existsSync(join(folder, 'elsewhere'))).toBe(false);
  });
}, 180_000);
