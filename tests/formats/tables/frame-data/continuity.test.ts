import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { TimecodeFormat } from '../../../../src/core/timecode/timecode.ts';
import { formatTimecode } from '../../../../src/core/timecode/timecode.ts';
import type { FrameLabel } from '../../../../src/formats/tables/frame-data/continuity.ts';
import { findJumps } from '../../../../src/formats/tables/frame-data/continuity.ts';

function labels(frames: readonly number[], format: TimecodeFormat): readonly FrameLabel[] {
  return frames.map((frame, at) => ({ line: at + 2, label: formatTimecode({ frame, format }) }));
}

const jumps = (frames: readonly number[], format: TimecodeFormat, base?: number): readonly string[] => findJumps(labels(frames, format), base).map(({ from, to }) => `${from.label} ${to.label}`);
const run = (start: number, length: number): readonly number[] => Array.from({ length }, (_, at) => start + at);

describe('timecode from row to row', () => {
  it('runs on through seconds, minutes, midnight and the labels that drop frame leaves out', () => {
    // Dropped labels: SMPTE ST 12-1, two at each minute that is not a tenth.
    const format = fc.constantFrom({ base: 24, drop: false }, { base: 25, drop: false }, { base: 30, drop: false }, { base: 30, drop: true }, { base: 60, drop: true });
    fc.assert(fc.property(format, fc.nat({ max: 2_589_407 }), (of, start) => {
      expect(findJumps(labels(run(start, 130), of), of.base)).toEqual([]);
    }));
  });

  it('finds the base from a run longer than a second', () => {
    expect(jumps(run(86_000, 100), { base: 24, drop: false })).toEqual([]);
    expect(jumps([...run(0, 40), ...run(60, 40)], { base: 25, drop: false })).toEqual(['00:00:01:14 00:00:02:10']);
  });

  it('finds missing, repeated and backward frames', () => {
    const format = { base: 24, drop: false };
    expect(jumps([0, 1, 2, 4, 5], format)).toEqual(['00:00:00:02 00:00:00:04']);
    expect(jumps([0, 1, 2, 2, 3, 4], format)).toEqual(['00:00:00:02 00:00:00:03']);
    expect(jumps([0, 1, 2, 1, 2], format)).toEqual(['00:00:00:02 00:00:00:01']);
  });

  it('lets the frames of a fast rate share labels of half the rate, if all do', () => {
    const format = { base: 24, drop: false };
    expect(jumps([0, 0, 1, 1, 2, 2, 3, 3], format)).toEqual([]);
    expect(jumps([0, 1, 1, 2, 2, 3], format)).toEqual([]);
    expect(jumps([0, 0, 1, 1, 2, 3, 3], format)).toEqual(['00:00:00:02 00:00:00:03']);
  });

  it('says nothing of texts that are no labels', () => {
    expect(findJumps([{ line: 2, label: 'noon' }, { line: 3, label: '' }, { line: 4, label: '00:00:00:250' }])).toEqual([]);
  });
});
