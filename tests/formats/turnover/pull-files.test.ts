import { describe, expect, it } from 'vitest';
import { parse } from 'csv-parse/sync';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { parseEdl } from '../../../src/formats/edl/parse-edl.ts';
import { parseOtio } from '../../../src/formats/otio/parse-otio.ts';
import { formatChanges, formatCountSheet } from '../../../src/formats/turnover/count-sheet.ts';
import { headerLabelOf, pictureFile } from '../../../src/formats/turnover/header-label-of.ts';
import { formatPullCsv, formatPullEdl } from '../../../src/formats/turnover/pull-list.ts';
import { formatShot, parseShot } from '../../../src/formats/turnover/shot-file.ts';
import { formatShotOtio } from '../../../src/formats/turnover/shot-otio.ts';
import { formatTurnover, parseTurnover } from '../../../src/formats/turnover/turnover-file.ts';
import { planTurnover } from '../../../src/steps/turnover/plan-turnover.ts';
import { turnoverDay, turnoverOptions } from '../../support/make-turnover.ts';

const day = turnoverDay({ cut: [3, 96], swappedOffset: 5 });
const plan = planTurnover(day, turnoverOptions(day, { pictures: 'dpx' }));
const shot = plan.shots[0]?.file;
if (shot === undefined) throw new Error('no shot was planned');
const format = { base: 24, drop: false };

describe('the files of a shot', () => {
  it('give back from the edit list the ranges of shot.json', () => {
    const cut = parseEdl(formatPullEdl(shot, () => format) ?? '', { file: 'pull.edl', rate: frameRate(24) });
    expect(cut.problems).toEqual([]);
    expect(cut.events.map(({ source, record }) => [source.range.end - source.range.start, record.end - record.start])).toEqual(shot.passes.map(({ source }) => [(source?.last ?? 0) - (source?.first ?? 0) + 1, (source?.last ?? 0) - (source?.first ?? 0) + 1]));
    const day14 = (14 * 3600 + 22 * 60) * 24;
    expect(cut.events[0]?.source.range).toEqual({ start: day14, end: day14 + 104 });
    expect(cut.events[0]?.clipName).toBe('A003C001.mov');
  });

  it('give back from the timeline the ranges of shot.json, every pass at its moment', () => {
    const cut = parseOtio(formatShotOtio(shot, frameRate(24), () => 0), { file: 'shot.otio' });
    expect(cut.problems).toEqual([]);
    const byClip = new Map(cut.events.map((event) => [event.clipName, event]));
    for (const { clip, source, numbers } of shot.passes) {
      const event = byClip.get(clip.slice(clip.lastIndexOf('/') + 1));
      expect(event?.source.range).toEqual({ start: source?.first, end: (source?.last ?? 0) + 1 });
      expect((event?.record.start ?? 0) - (byClip.get('A003C001.mov')?.record.start ?? 0)).toBe((numbers?.first ?? 0) - (shot.passes[0]?.numbers?.first ?? 0));
    }
  });

  it('are read back as they were written', () => {
    expect(parseShot(formatShot(shot))).toEqual({ kind: 'ok', value: shot });
    expect(parseTurnover(formatTurnover(plan.turnover))).toEqual({ kind: 'ok', value: plan.turnover });
    expect(parseShot('{"schema":"gemel/shot/9"}')).toMatchObject({ kind: 'faulty' });
    expect(parseShot('not JSON')).toEqual({ kind: 'faulty', faults: ['it is not JSON'] });
  });

  it('hold rows that a spreadsheet reads and does not run', () => {
    const named = { ...shot, shot: '=cmd()', passes: shot.passes.map((pass) => ({ ...pass, clip: '@SUM(A1).mov' })) };
    for (const text of [formatPullCsv(named, () => undefined), formatCountSheet([named], plan.turnover), formatChanges(plan.turnover)]) {
      const rows: string[][] = parse(text);
      expect(rows.length).toBeGreaterThan(1);
      expect(rows.flat().filter((cell) => /^[=@]/.test(cell))).toEqual([]);
    }
  });

  it('name the same reel in the CSV as in the edit list, pass by pass', () => {
    const rows: string[][] = parse(formatPullCsv(shot, () => format));
    const reels = [...(formatPullEdl(shot, () => format) ?? '').matchAll(/^\d{3} +(\S+)/gmu)].map(([, reel]) => reel);
    expect(reels.length).toBe(shot.passes.length);
    expect(rows.slice(1).map((row) => row[(rows[0] ?? []).indexOf('reel')])).toEqual(reels);
  });

  it('say for each number which file it is and which label its header carries', () => {
    const pictures = shot.passes[1]?.pictures;
    if (pictures === null || pictures === undefined) throw new Error('no pictures were planned');
    expect(pictureFile(pictures, 1010)).toBe('SMR_027_0010/plates/swapped/SMR_027_0010_swapped.1010.dpx');
    // Number 1001 would be frame -5 of the lead, frame 0 of the swapped pass.
    expect(headerLabelOf(pictures, 1001)).toEqual({ label: '14:30:00:00', phase: 0 });
    expect(headerLabelOf(pictures, 1025)).toEqual({ label: '14:30:01:00', phase: 0 });
  });

  it('count labels of pairs above 30 labels a second, as SMPTE ST 12-1 has no digits for more', () => {
    const fast = { numbers: [{ first: 1001, last: 1100 }], timecode: { first: '10:00:00:47', firstFrame: 0, base: 50, dropFrame: false, framesPerLabel: 1 } };
    expect([1001, 1002, 1003, 1004].map((number) => headerLabelOf(fast, number))).toEqual([
      { label: '10:00:00:23', phase: 1 }, { label: '10:00:00:24', phase: 0 }, { label: '10:00:00:24', phase: 1 }, { label: '10:00:01:00', phase: 0 },
    ]);
    const shared = { ...fast, timecode: { ...fast.timecode, first: '10:00:00:23', base: 25, framesPerLabel: 2 } };
    expect([1001, 1002, 1003].map((number) => headerLabelOf(shared, number))).toEqual([{ label: '10:00:00:23', phase: 0 }, { label: '10:00:00:23', phase: 1 }, { label: '10:00:00:24', phase: 0 }]);
  });
});
