import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { TimecodeFormat } from '../../../src/core/timecode/timecode.ts';
import { formatTimecode, framesPerDay, parseLabel } from '../../../src/core/timecode/timecode.ts';
import { FORMATS } from './formats.ts';

/** First frame in steps of `step` whose label does not lead back to it; -1 when there is none. */
function firstLost(format: TimecodeFormat, step: number): number {
  const day = framesPerDay(format);
  for (let frame = 0; frame < day; frame += step) {
    if (parseLabel(formatTimecode({ frame, format }), format).frame !== frame) return frame;
  }
  return -1;
}

/** Counts a day as a clock would, label by label, leaving out what ST 12-1 leaves out; the first label that is not the next frame, or "". */
function firstOutOfStep({ base, drop }: TimecodeFormat): string {
  const two = (value: number): string => String(value).padStart(2, '0');
  let next = 0;
  for (let minute = 0; minute < 1440; minute += 1) {
    // Within a minute only its ends can go wrong: the second that may lose labels, and the last.
    for (const second of [0, 1, 59]) {
      const leftOut = drop && second === 0 && minute % 10 !== 0 ? base / 15 : 0;
      if (second === 59) next += 57 * base;
      for (let frame = leftOut; frame < base; frame += 1, next += 1) {
        const label = `${two(Math.floor(minute / 60))}:${two(minute % 60)}:${two(second)}${drop ? ';' : ':'}${String(frame).padStart(base > 100 ? 3 : 2, '0')}`;
        if (parseLabel(label, { base, drop }).frame !== next || formatTimecode({ frame: next, format: { base, drop } }) !== label) return label;
      }
    }
  }
  return next === framesPerDay({ base, drop }) ? '' : 'end of the day';
}

describe('labels and frames', () => {
  it.each(FORMATS)('$name has $perDay labels a day', ({ base, drop, perDay }) => {
    expect(framesPerDay({ base, drop })).toBe(perDay);
  });

  // Whole days at 24, 25 and 29.97 DF; the others in steps that share no factor with their base, to spare time.
  it.each(FORMATS)('$name: labels lead back to their frames', ({ base, drop }) => {
    expect(firstLost({ base, drop }, base < 30 || (base === 30 && drop) ? 1 : 11)).toBe(-1);
  });

  it.each(FORMATS)('$name: labels follow one another without a gap through the ends of all minutes of a day', ({ base, drop }) => {
    expect(firstOutOfStep({ base, drop })).toBe('');
  });

  it('29.97 DF is the formula of SMPTE ST 2059-1', () => {
    fc.assert(
      fc.property(fc.nat(23), fc.nat(59), fc.nat(59), fc.nat(29), (hours, minutes, seconds, frames) => {
        fc.pre(seconds > 0 || frames > 1 || minutes % 10 === 0);
        const label = `${hours}:${minutes}:${seconds};${frames}`;
        const expected = 107_892 * hours + 1798 * minutes + 2 * Math.floor(minutes / 10) + 30 * seconds + frames;
        expect(parseLabel(label, { base: 30, drop: true }).frame).toBe(expected);
      }),
    );
  });

  it('a day of drop frame lasts a day of the clock, to a tenth of a second', () => {
    // 2 589 408 labels at 30000/1001 are 86 399.9136 s.
    expect((framesPerDay({ base: 30, drop: true }) * 1001) / 30_000).toBeCloseTo(86_399.9136, 9);
  });
});
