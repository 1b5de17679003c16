import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Clip } from '../../../src/core/material/clip.ts';
import { recordedApart, recordingOf } from '../../../src/core/matching/recording.ts';
import { secondsBetween } from '../../../src/core/matching/recording-clock.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { framesPerDay, parseLabel } from '../../../src/core/timecode/timecode.ts';
import { LABELS_24, pass } from '../../support/make-sets.ts';

const takes = (clips: readonly Clip[]): readonly (number | undefined)[] => clips.map((clip) => clip.slate?.take);
const at = (take: number, label: string, over: Partial<Clip> = {}): Clip => pass({ role: 'lead', take, at: label, over });

describe('recording order', () => {
  it('goes by the clock where timecode is a clock', () => {
    const recording = recordingOf([at(3, '10:20:00:00'), at(1, '10:00:00:00'), at(2, '10:10:00:00')]);
    expect(takes(recording.order)).toEqual([1, 2, 3]);
    expect(recording.clockTrusted).toBe(true);
  });

  it('keeps a night shoot in order past midnight, with one date, two dates or none', () => {
    const labels = ['23:40:00:00', '23:58:00:00', '00:03:00:00', '00:20:00:00'];
    for (const dates of [[], ['2026-11-25', '2026-11-25', '2026-11-25', '2026-11-25'], ['2026-11-25', '2026-11-25', '2026-11-26', '2026-11-26']]) {
      const clips = labels.map((label, index) => at(index + 1, label, dates[index] === undefined ? {} : { date: dates[index] }));
      expect(takes(recordingOf(clips.toReversed()).order)).toEqual([1, 2, 3, 4]);
    }
  });

  it('goes by dates where they differ, whatever the time of day', () => {
    expect(takes(recordingOf([at(1, '08:00:00:00', { date: '2026-11-26' }), at(2, '19:00:00:00', { date: '2026-11-25' })]).order)).toEqual([2, 1]);
  });

  it('does not take timecode for a clock where two clips carry the same stretch, and goes by roll and clip number', () => {
    const repeated = [3, 1, 2].map((take) => at(take, take === 1 ? '10:00:00:05' : '10:00:00:00'));
    const recording = recordingOf(repeated);
    expect(recording.clockTrusted).toBe(false);
    expect(takes(recording.order)).toEqual([1, 2, 3]);
  });

  it('takes record-run timecode for a clock, where each clip starts with the label after the last', () => {
    for (const [rate, base, drop] of [[frameRate(24000, 1001), 24, false], [frameRate(30000, 1001), 30, true], [frameRate(50), 25, false]] as const) {
      const format = { base, drop };
      const perLabel = rate.num === 50 ? 2 : 1;
      const clips = [0, 1, 2].map((index) => at(index + 1, '10:00:00:00', { rate, frames: 240 * perLabel, start: { frame: 500_000 + 240 * index, format } }));
      expect(recordingOf(clips).clockTrusted).toBe(true);
    }
  });

  it('goes by roll and clip number where a timecode is missing, counting numbers as numbers', () => {
    const numbered = (take: number, roll: string, clip: string): Clip => pass({ role: 'lead', take, over: { roll, clip } });
    const recording = recordingOf([numbered(4, 'A10', 'C1'), numbered(3, 'A9', 'C10'), numbered(1, 'A9', 'C2'), at(2, '10:00:00:00', { roll: 'A9', clip: 'C9' })]);
    expect(takes(recording.order)).toEqual([1, 2, 3, 4]);
    expect(recordedApart(recording, numbered(4, 'A10', 'C1'), numbered(3, 'A9', 'C10'))).toEqual({ clips: 1 });
  });

  it('leaves unusable clips out', () => {
    expect(takes(recordingOf([at(1, '10:00:00:00', { usable: false }), at(2, '11:00:00:00')]).order)).toEqual([2]);
  });

  it('does not depend on the order of the clips, nor on a shift of all timecodes, even past midnight', () => {
    const clips = fc.array(fc.integer({ min: 0, max: framesPerDay(LABELS_24) - 1 }), { minLength: 2, maxLength: 8 }).map((frames) =>
      frames.map((frame, index) => at(index + 1, '00:00:00:00', { start: { frame, format: LABELS_24 } })),
    );
    fc.assert(
      fc.property(clips, fc.integer({ min: 0, max: 3_000_000 }), fc.integer({ min: 0, max: 7 }), (day, shift, turn) => {
        const shifted = day.map((clip) => ({ ...clip, start: { frame: ((clip.start?.frame ?? 0) + shift) % framesPerDay(LABELS_24), format: LABELS_24 } }));
        const turned = [...shifted.slice(turn), ...shifted.slice(0, turn)];
        const before = recordingOf(day);
        const after = recordingOf(turned);
        expect(takes(after.order)).toEqual(takes(before.order));
        expect(after.clockTrusted).toBe(before.clockTrusted);
        const [a, b] = day;
        const [shiftedA, shiftedB] = shifted;
        if (a !== undefined && b !== undefined && shiftedA !== undefined && shiftedB !== undefined) {
          expect(recordedApart(after, shiftedA, shiftedB)).toEqual(recordedApart(before, a, b));
        }
      }),
      { numRuns: 500, seed: 3 },
    );
  });
});

describe('the recording clock', () => {
  it('counts four minutes from 23:58 to 00:02', () => {
    expect(secondsBetween(at(1, '23:58:00:00'), at(2, '00:02:00:00'))).toBe(240);
    expect(secondsBetween(at(2, '00:02:00:00'), at(1, '23:58:00:00'))).toBe(-240);
  });

  it('counts one day between the same label of two dates', () => {
    expect(secondsBetween(at(1, '10:00:00:00', { date: '2026-11-30' }), at(2, '10:00:00:00', { date: '2026-12-01' }))).toBe(86_400);
  });

  it('counts ten minutes of 29.97 drop frame as 17982 frames, 600 s less 0.6 ms', () => {
    // SMPTE ST 12-1: 10 minutes of drop-frame labels are 17982 frames; each lasts 1001/30000 s.
    const drop = { base: 30, drop: true };
    const a = at(1, '10:00:00:00', { start: parseLabel('10:00:00;00', drop) });
    const b = at(2, '10:00:00:00', { start: parseLabel('10:10:00;00', drop) });
    expect(secondsBetween(a, b)).toBe((17_982 * 1001) / 30_000);
  });

  it('compares labels of two formats by the time they stand for', () => {
    const a = at(1, '10:00:00:00', { start: parseLabel('10:00:00:00', { base: 24, drop: false }) });
    const b = at(2, '10:00:00:00', { start: parseLabel('10:01:00:12', { base: 25, drop: false }) });
    expect(secondsBetween(a, b)).toBe(60.48);
  });
});
