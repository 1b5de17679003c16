import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expandPairCount, framesOfLabel, framesPerLabel, labelOfFrame } from '../../../src/core/timecode/half-rate.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import type { TimecodeFormat } from '../../../src/core/timecode/timecode.ts';
import { formatTimecode, framesPerDay, parseLabel } from '../../../src/core/timecode/timecode.ts';

const PAL: TimecodeFormat = { base: 25, drop: false };
const DROP: TimecodeFormat = { base: 30, drop: true };

describe('a file whose labels count pairs of frames', () => {
  it.each([
    [frameRate(50), PAL, 2],
    [frameRate(60000, 1001), DROP, 2],
    [frameRate(60), { base: 30, drop: false }, 2],
    [frameRate(48000, 1001), { base: 24, drop: false }, 2],
    [frameRate(120), { base: 30, drop: false }, 4], // ST 12-3: a label for four frames
    [frameRate(120), { base: 24, drop: false }, 5], // ST 12-3: a label for five frames
    [frameRate(24), { base: 24, drop: false }, 1],
    [frameRate(60), PAL, undefined],
    [frameRate(25), { base: 50, drop: false }, undefined],
  ])('has that many frames a label: %o labelled %o', (rate, format, frames) => {
    expect(framesPerLabel(rate, format)).toBe(frames);
  });

  it('shows each label twice', () => {
    const start = parseLabel('10:00:00:23', PAL);
    expect([0, 1, 2, 3, 4].map((frame) => formatTimecode(labelOfFrame(start, frame, 2)))).toEqual([
      '10:00:00:23', '10:00:00:23', '10:00:00:24', '10:00:00:24', '10:00:01:00',
    ]);
  });

  it('may begin with the second frame of a pair', () => {
    const start = parseLabel('10:00:00:23', PAL);
    expect([0, 1, 2].map((frame) => formatTimecode(labelOfFrame(start, frame, 2, 1)))).toEqual(['10:00:00:23', '10:00:00:24', '10:00:00:24']);
    expect(framesOfLabel(0, 2, 1)).toEqual({ start: -1, end: 1 });
    expect(framesOfLabel(1, 2, 1)).toEqual({ start: 1, end: 3 });
  });

  it('finds the frames of a label where the label says they are', () => {
    fc.assert(
      fc.property(fc.integer({ min: -5000, max: 5000 }), fc.constantFrom(1, 2, 4, 5), fc.nat(4), (frame, perLabel, anyPhase) => {
        const phase = anyPhase % perLabel;
        const start = { frame: 900_000, format: PAL };
        const label = labelOfFrame(start, frame, perLabel, phase);
        const frames = framesOfLabel(label.frame - start.frame, perLabel, phase);
        expect(frames.start <= frame && frame < frames.end && frames.end - frames.start === perLabel).toBe(true);
      }),
    );
  });
});

describe('a pair count, counted in full', () => {
  it('is twice the pair, and one more for its second frame', () => {
    expect(formatTimecode(expandPairCount(parseLabel('10:00:00:12', PAL), 2))).toBe('10:00:00:24');
    expect(formatTimecode(expandPairCount(parseLabel('10:00:00:12', PAL), 2, 1))).toBe('10:00:00:25');
  });

  // Two labels dropped a minute in pairs are four frames, which is what full counting drops (SMPTE ST 12-1).
  it('keeps hours, minutes and seconds of every drop-frame label of a day, in both frames of the pair', () => {
    const day = framesPerDay(DROP);
    for (let frame = 0; frame < day; frame += 7) {
      const label = formatTimecode({ frame, format: DROP });
      const pair = Number(label.slice(9));
      for (const phase of [0, 1]) {
        const full = formatTimecode(expandPairCount({ frame, format: DROP }, 2, phase));
        const wanted = `${label.slice(0, 9)}${String(2 * pair + phase).padStart(2, '0')}`;
        if (full !== wanted) expect(full).toBe(wanted);
      }
    }
    expect(framesPerDay({ base: 60, drop: true })).toBe(2 * day);
  });
});
