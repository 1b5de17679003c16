import { describe, expect, it } from 'vitest';
import type { ShotRow } from '../../../src/core/material/shot-list.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { formatTimecode } from '../../../src/core/timecode/timecode.ts';
import { checkDay } from '../../../src/steps/check/check-day.ts';
import { ASSUMED, checkRules, makeFullClip, makeMatchedDay } from '../../support/make-matched.ts';
import type { Scene } from './scene.ts';
import { handheldScene, judgeScene, said, soundScene, syncedAt, withPass } from './scene.ts';

/** A cut range of the lead, in frames from its first, as a row of the shot list. */
function cutOf(scene: Scene, start: number, end: number, over: Partial<ShotRow> = {}): Scene {
  const { start: first } = scene.lead;
  if (first === undefined) throw new Error('the lead has timecode');
  const label = (frame: number): string => formatTimecode({ frame: first.frame + frame, format: first.format });
  const row: ShotRow = { shot: 'SMR_0100', slate: '27B', take: 1, cutIn: label(start), cutOut: label(end), handles: {}, from: 'shots.csv line 2', ...over };
  return { ...scene, day: { ...scene.day, shots: [row] } };
}

describe('with a shot list', () => {
  it('finds nothing when cut range and handles are held', () => {
    expect(judgeScene(cutOf(soundScene(), 8, 232)).findings).toEqual([]);
  });

  it.each([
    ['the last handle frame', 8, 233, ['short-tail warn', 'short-tail warn']],
    ['the first handle frame', 7, 232, ['short-head warn', 'short-head warn']],
    ['both, one each', 7, 233, ['short-head warn', 'short-head warn', 'short-tail warn', 'short-tail warn']],
  ])('warns of the lead and the pass when %s is missing', (_what, start, end, expected) => {
    expect(said(judgeScene(cutOf(soundScene(), start, end)).findings)).toEqual(expected);
  });

  it('stops at the first frame of the cut range that is missing', () => {
    const scene = cutOf(soundScene(), 8, 200);
    const withFrames = (frames: number): readonly string[] => said(judgeScene(withPass(scene, 'swapped', { frames })).findings);
    expect([withFrames(208), withFrames(207), withFrames(200), withFrames(199)]).toEqual([[], ['short-tail warn'], ['short-tail warn'], ['short-tail stop']]);
  });

  it('says how many frames are missing, of the cut before the handles', () => {
    const { findings } = judgeScene(withPass(cutOf(soundScene(), 8, 200), 'swapped', { frames: 190 }));
    expect(findings[0]?.measured).toEqual({ value: 10, unit: 'frames' });
    expect(findings[0]?.consequence).toContain('10 frames of the cut range and 8 handle frames are missing');
    expect(findings[0]?.evidence[0]).toBe('shots.csv line 2: cut range 8 to 199, with handles 0 to 207 (frames of the lead from 0, both ends in)');
  });

  it('follows the handles of the row before those of the pipeline', () => {
    const scene = withPass(cutOf(soundScene(), 24, 200, { handles: { head: 24, tail: 0 } }), 'swapped', { frames: 200 });
    expect(judgeScene(scene).findings).toEqual([]);
  });

  it('lays the pass under the lead by its sync', () => {
    const scene = cutOf(soundScene(), 20, 200);
    const at = (offset: number): readonly string[] => said(judgeScene({ ...scene, match: { swapped: syncedAt(offset) } }).findings);
    // Frame of the pass = frame of the lead + offset, so a negative offset takes frames from the head.
    expect([at(0), at(-12), at(-13), at(-20), at(-21), at(32), at(33), at(41)]).toEqual([
      [], [], ['short-head warn'], ['short-head warn'], ['short-head stop'], [], ['short-tail warn'], ['short-tail stop'],
    ]);
  });

  it('finds a lead take that does not hold its own cut', () => {
    expect(said(judgeScene(cutOf(soundScene(), 230, 250)).findings)).toEqual(['short-tail stop', 'short-tail stop']);
    expect(said(judgeScene(cutOf(soundScene(), 240, 260)).findings)).toEqual(['no-overlap stop']);
  });

  it('asks a moving camera for a clean plate under the whole range', () => {
    const scene = cutOf(handheldScene(), 8, 200);
    const withFrames = (frames: number): readonly string[] => said(judgeScene(withPass(scene, 'clean', { frames })).findings);
    expect([withFrames(208), withFrames(207), withFrames(199)]).toEqual([[], ['clean-plate-short warn'], ['clean-plate-short stop']]);
  });

  it('puts a hole outside the cut into a note, in the handles into a warning', () => {
    const holeAt = (number: number): readonly string[] => {
      const sequence = { first: 1001, last: 1240, padding: 4, missing: [{ start: number, end: number + 1 }] };
      return said(judgeScene(withPass(cutOf(soundScene(), 8, 200), 'swapped', { kind: 'sequence', frames: 239, sequence })).findings);
    };
    // Number 1001 is frame 0: the cut range is 1009 to 1200, the handles reach from 1001 to 1208.
    expect([1008, 1009, 1200, 1201, 1208, 1209].map(holeAt)).toEqual([
      ['frame-gap warn'], ['frame-gap stop'], ['frame-gap stop'], ['frame-gap warn'], ['frame-gap warn'], ['frame-gap note'],
    ]);
  });

  it('names the missing numbers', () => {
    const sequence = { first: 1001, last: 1240, padding: 4, missing: [{ start: 1100, end: 1101 }, { start: 1150, end: 1153 }] };
    const { findings } = judgeScene(withPass(soundScene(), 'swapped', { kind: 'sequence', frames: 236, sequence }));
    expect(findings[0]?.measured).toEqual({ value: 4, unit: 'frames' });
    expect(findings[0]?.consequence).toContain('1100, 1150 to 1152');
  });

  it('finds a shot whose take is not there', () => {
    const scene = cutOf(soundScene(), 8, 200, { take: 9 });
    expect(said(judgeScene(scene).findings)).toEqual(['missing-lead-pass stop']);
  });

  it('tells of shots for set-ups of which nothing is here, without stopping the day', () => {
    const row: ShotRow = { shot: 'SMR_0900', slate: '99Z', handles: {}, from: 'shots.csv line 9' };
    const day = checkDay(makeMatchedDay([], { shots: [row] }), checkRules());
    expect(said(day.findings)).toEqual(['missing-lead-pass warn']);
  });

  it('says which label of the row cannot be placed, and goes by the whole take', () => {
    const scene = cutOf(soundScene(), 8, 200, { cutIn: '10:02:99:00' });
    expect(said(judgeScene(withPass(scene, 'swapped', { frames: 239 })).findings)).toEqual(['short-tail warn', 'unreadable-value warn']);
    expect(judgeScene(scene).findings[0]?.consequence).toMatch(/^The cut in A003C001 could not be placed .*against the whole take instead\.$/);
  });
});

describe('without a shot list', () => {
  it('never stops for a swapped pass that is shorter than the lead, however short', () => {
    expect(said(judgeScene(withPass(soundScene(), 'swapped', { frames: 1 })).findings)).toEqual(['short-tail warn']);
  });

  it('wants no handles that nobody could have shot', () => {
    expect(judgeScene(withPass(soundScene(), 'swapped', { frames: 240 })).findings).toEqual([]);
  });

  it('does not lay a locked-off clean plate, nor a reference, under the lead', () => {
    const reference = makeFullClip(4, 'reference', { frames: 2 });
    const scene = { ...soundScene({ more: [reference] }), match: { clean: { sync: ASSUMED }, reference: { sync: ASSUMED } } };
    expect(judgeScene(scene).findings).toEqual([]);
  });
});

describe('passes at another rate', () => {
  it('are not measured in frames of the lead: the rate says all', () => {
    const at25 = { rate: frameRate(25), sensorRate: frameRate(25), frames: 20 };
    const scene = { ...withPass(soundScene(), 'swapped', at25), match: { swapped: { sync: ASSUMED } } };
    expect(said(judgeScene(scene).findings)).toEqual(['frame-rate-differs stop']);
  });
});

it('carries along what was needed and how far each pass holds it', () => {
  const { needed, coverage, shots } = judgeScene(cutOf(soundScene(), 8, 200));
  expect(needed.map(({ shot, cut }) => [shot, cut])).toEqual([['SMR_0100', { start: 8, end: 200 }]]);
  expect(coverage.map(({ role, available }) => [role, available])).toEqual([
    ['lead', { start: 0, end: 240 }], ['swapped', { start: 0, end: 240 }], ['clean', { start: 0, end: 48 }],
  ]);
  expect(shots.map(({ shot }) => shot)).toEqual(['SMR_0100']);
});
