import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { neededRanges } from '../../../src/core/coverage/needed-ranges.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { formatTimecode } from '../../../src/core/timecode/timecode.ts';
import { shotRow, takeOf } from './coverage-clips.ts';

const HANDLES = { head: 8, tail: 8 };
const lead = takeOf('l.mov', { label: '10:00:00:00', frames: 240 });
const cutOf = (row: object, clip = lead): unknown => neededRanges(clip, [shotRow(row)], HANDLES).ranges.map(({ cut, basis }) => [cut.start, cut.end, basis]);

describe('what a lead take must hold', () => {
  it('is the whole take, without handles, when no shot names it', () => {
    expect(neededRanges(lead, [shotRow({ slate: '28A' })], HANDLES)).toEqual({
      ranges: [{ lead: 'l.mov', basis: 'lead-take', cut: { start: 0, end: 240 }, handles: { head: 0, tail: 0 }, from: 'no cut known: the whole lead take' }],
      problems: [],
    });
  });

  it('is the cut range, its out exclusive, with handles', () => {
    expect(neededRanges(lead, [shotRow({ cutIn: '10:00:02:00', cutOut: '10:00:05:12' })], HANDLES)).toEqual({
      ranges: [{ lead: 'l.mov', shot: 'SMR_0270', basis: 'shot-list', cut: { start: 48, end: 132 }, handles: HANDLES, from: 'lists/shots.csv line 4' }],
      problems: [],
    });
  });

  it('takes each handle from the row before the defaults', () => {
    const [range] = neededRanges(lead, [shotRow({ cutIn: '10:00:02:00', cutOut: '10:00:05:12', handles: { tail: 0 } })], { head: 8, tail: 12 }).ranges;
    expect(range?.handles).toEqual({ head: 8, tail: 0 });
  });

  it('is one range a shot', () => {
    const rows = [shotRow({ cutIn: '10:00:02:00', cutOut: '10:00:03:00' }), shotRow({ shot: 'SMR_0280', cutIn: '10:00:07:00', cutOut: '10:00:08:00' })];
    expect(neededRanges(lead, rows, HANDLES).ranges.map(({ shot, cut }) => [shot, cut.start])).toEqual([['SMR_0270', 48], ['SMR_0280', 168]]);
  });

  it('is the whole take where a shot gives no cut', () => {
    expect(neededRanges(lead, [shotRow()], HANDLES).ranges).toMatchObject([{ shot: 'SMR_0270', basis: 'lead-take', cut: { start: 0, end: 240 }, handles: { head: 0, tail: 0 } }]);
  });

  it.each([
    ['begins before the take', '09:59:59:00', '10:00:01:00', -24, 24],
    ['ends after the take', '10:00:09:00', '10:00:11:00', 216, 264],
    ['lies wholly before the take', '09:00:00:00', '09:00:01:00', -86400, -86376],
    ['lies wholly after the take', '11:00:00:00', '11:00:01:00', 86400, 86424],
  ])('keeps a cut that %s, so that the shortage shows', (_, cutIn, cutOut, start, end) => {
    expect(cutOf({ cutIn, cutOut })).toEqual([[start, end, 'shot-list']]);
  });

  it('crosses midnight', () => {
    const late = takeOf('l.mov', { label: '23:59:58:00', frames: 240 });
    expect(cutOf({ cutIn: '23:59:59:00', cutOut: '00:00:01:00' }, late)).toEqual([[24, 72, 'shot-list']]);
    expect(cutOf({ cutIn: '00:00:01:00', cutOut: '00:00:02:00' }, late)).toEqual([[72, 96, 'shot-list']]);
    const early = takeOf('l.mov', { label: '00:00:01:00', frames: 240 });
    expect(cutOf({ cutIn: '23:59:59:00', cutOut: '00:00:02:00' }, early)).toEqual([[-48, 24, 'shot-list']]);
  });

  it('reads labels in the format of the lead, also where the list writes drop frame with ":"', () => {
    const drop = takeOf('l.mov', { label: '01:00:59;28', frames: 300, rate: frameRate(30000, 1001), format: { base: 30, drop: true } });
    expect(cutOf({ cutIn: '01:00:59:29', cutOut: '01:01:00:04' }, drop)).toEqual([[1, 4, 'shot-list']]);
  });

  it('counts two frames a label where a 50 fps file carries labels of base 25', () => {
    const fifty = takeOf('l.mov', { label: '10:00:00:00', frames: 500, rate: frameRate(50), format: { base: 25, drop: false } });
    expect(cutOf({ cutIn: '10:00:01:00', cutOut: '10:00:02:01' }, fifty)).toEqual([[50, 102, 'shot-list']]);
  });

  it('is nothing where neither a cut nor the length of the take is known', () => {
    expect(neededRanges(takeOf('l.mov'), [], HANDLES)).toEqual({ ranges: [], problems: [] });
    expect(neededRanges(takeOf('l.mov', { label: '10:00:00:00' }), [shotRow({ cutIn: '10:00:00:00', cutOut: '10:00:01:00' })], HANDLES).ranges).toHaveLength(1);
  });
});

describe('a cut that cannot be placed', () => {
  const drop = takeOf('l.mov', { label: '01:00:00;00', frames: 300, rate: frameRate(30000, 1001), format: { base: 30, drop: true } });

  it.each([
    ['no label', lead, { cutIn: 'soon', cutOut: '10:00:01:00' }, 'cut_in', '"soon": expected HH:MM:SS:FF'],
    ['a frame the base does not have', lead, { cutIn: '10:00:00:00', cutOut: '10:00:01:24' }, 'cut_out', 'frame 24 does not exist at 24 labels a second'],
    ['a label drop frame leaves out', drop, { cutIn: '01:01:00:00', cutOut: '01:02:00:02' }, 'cut_in', 'does not exist in drop frame'],
    ['an end without a start', lead, { cutOut: '10:00:01:00' }, 'cut_in', 'cut_out without cut_in'],
    ['a start without an end', lead, { cutIn: '10:00:01:00' }, 'cut_out', 'cut_in without cut_out'],
    ['nothing between', lead, { cutIn: '10:00:01:00', cutOut: '10:00:01:00' }, 'cut_out', 'the same as cut_in'],
    ['an end before its start', lead, { cutIn: '10:00:03:00', cutOut: '10:00:01:00' }, 'cut_out', 'which lies before cut_in'],
    ['a lead without timecode', takeOf('l.mov', { frames: 240 }), { cutIn: '10:00:00:00', cutOut: '10:00:01:00' }, 'cut_in', 'has no timecode'],
    [
      'labels that do not keep step with the frames',
      takeOf('l.mov', { label: '10:00:00:00', frames: 240, rate: frameRate(60), format: { base: 25, drop: false } }),
      { cutIn: '10:00:00:00', cutOut: '10:00:01:00' },
      'cut_in',
      'do not keep step',
    ],
  ])('for %s is told with its file, line and column, and the whole take is asked for', (_, clip, row, column, found) => {
    const { ranges, problems } = neededRanges(clip, [shotRow(row)], HANDLES);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject({ code: 'unreadable-value', file: 'lists/shots.csv', place: `line 4, column ${column}` });
    expect(problems[0]?.found).toContain(found);
    expect(ranges).toMatchObject([{ basis: 'lead-take', cut: { start: 0, end: clip.frames }, shot: 'SMR_0270' }]);
  });
});

describe('a row of the shot list names a lead', () => {
  it.each([
    ['by its set-up', {}, true],
    ['written another way', { slate: ' 27 b ' }, true],
    ['with the word slate', { slate: 'Slate 27B' }, true],
    ['with the take in the slate', { slate: '27B-3' }, true],
    ['with another take in the slate', { slate: '27B-4' }, false],
    ['as the board says it', { slate: '27B take 3' }, true],
    ['by set-up and take', { take: 3 }, true],
    ['but another take', { take: 4 }, false],
    ['by set-up and camera', { camera: 'a' }, true],
    ['but another camera', { camera: 'B' }, false],
    ['but another set-up', { slate: '27BB' }, false],
    ['with leading zeros', { slate: '027B' }, true],
    ['with its take in other words', { slate: '27B TK.03' }, true],
    ['in full width', { slate: '２７Ｂ' }, true],
    ['with signs between its parts', { slate: 'slate: 27-B' }, true],
  ])('%s', (_, row, named) => {
    expect(neededRanges(lead, [shotRow(row)], HANDLES).ranges[0]?.shot === 'SMR_0270').toBe(named);
  });

  it('where numbers stay apart', () => {
    const running = takeOf('r.mov', { scene: '', setUp: '21', take: 4, label: '10:00:00:00', frames: 10 });
    const named = (slate: string): boolean => neededRanges(running, [shotRow({ slate })], HANDLES).ranges[0]?.shot !== undefined;
    expect([named('21'), named('Slate 21'), named('slate 21 take 4'), named('21/4'), named('214'), named('2-14')]).toEqual([true, true, true, true, false, false]);
  });

  it('with its prefix', () => {
    const vfx = takeOf('v.mov', { prefix: 'VFX', label: '10:00:00:00', frames: 10 });
    expect(neededRanges(vfx, [shotRow({ slate: 'VFX-27B' })], HANDLES).ranges[0]?.shot).toBe('SMR_0270');
    expect(neededRanges(vfx, [shotRow()], HANDLES).ranges[0]?.shot).toBeUndefined();
  });

  it('in whose take the cut lies, when it names no take', () => {
    const other = takeOf('m.mov', { label: '10:05:00:00', frames: 240, take: 4 });
    const row = shotRow({ cutIn: '10:05:02:00', cutOut: '10:05:03:00' });
    expect(neededRanges(lead, [row], HANDLES, [other]).ranges).toMatchObject([{ basis: 'lead-take' }]);
    expect(neededRanges(other, [row], HANDLES, [lead]).ranges).toMatchObject([{ shot: 'SMR_0270', cut: { start: 48, end: 72 } }]);
    // In neither: then both fall short, and it shows.
    const nowhere = shotRow({ cutIn: '11:00:00:00', cutOut: '11:00:01:00' });
    expect(neededRanges(lead, [nowhere], HANDLES, [other]).ranges).toMatchObject([{ basis: 'shot-list' }]);
    // A take that is named is meant.
    expect(neededRanges(lead, [{ ...row, take: 3 }], HANDLES, [other]).ranges).toMatchObject([{ basis: 'shot-list' }]);
  });
});

describe('every cut of a day', () => {
  it('comes back as the frames it was made from, wherever the take starts', () => {
    const formats = [
      { rate: frameRate(24000, 1001), format: { base: 24, drop: false }, day: 2_073_600 },
      { rate: frameRate(30000, 1001), format: { base: 30, drop: true }, day: 2_589_408 },
      { rate: frameRate(60000, 1001), format: { base: 60, drop: true }, day: 5_178_816 },
    ];
    fc.assert(
      fc.property(fc.constantFrom(...formats), fc.nat(), fc.integer({ min: -100_000, max: 100_000 }), fc.integer({ min: 1, max: 50_000 }), ({ rate, format, day }, at, from, length) => {
        const label = (frame: number): string => formatTimecode({ frame, format });
        const start = at % day;
        const clip = takeOf('l.mov', { label: label(start), frames: 1000, rate, format });
        const { ranges } = neededRanges(clip, [shotRow({ cutIn: label(start + from), cutOut: label(start + from + length) })], HANDLES);
        expect(ranges[0]?.cut).toEqual({ start: from, end: from + length });
      }),
    );
  });
});
