import SmpteTimecode from 'smpte-timecode';
import { Timecode as OtherTimecode } from 'timecode';
import { describe, expect, it } from 'vitest';
import type { TimecodeFormat } from '../../../src/core/timecode/timecode.ts';
import { formatTimecode, framesPerDay, parseLabel } from '../../../src/core/timecode/timecode.ts';

// Two libraries that know nothing of each other: smpte-timecode 1.3.6 and timecode 0.0.4, both from the npm registry.
// Only the first counts to 119, and neither knows drop frame at 119.88: that rests on the published values and on counting.

type Counting = (asked: string | number) => { readonly frame: number; readonly label: string };

const smpte = (rate: [number, number], drop: boolean): Counting => (asked) => {
  const timecode = SmpteTimecode(asked, rate, drop);
  return { frame: timecode.frameCount, label: timecode.toString() };
};

const other = (rate: string, drop: boolean): Counting => (asked) => {
  const timecode = OtherTimecode.init({ framerate: rate, timecode: asked, drop_frame: drop });
  return { frame: timecode.frame_count, label: timecode.toString() };
};

const CASES: readonly { readonly name: string; readonly format: TimecodeFormat; readonly libraries: readonly Counting[] }[] = [
  { name: '23.976', format: { base: 24, drop: false }, libraries: [smpte([24_000, 1001], false), other('23.98', false)] },
  { name: '25', format: { base: 25, drop: false }, libraries: [smpte([25, 1], false), other('25', false)] },
  { name: '29.97 NDF', format: { base: 30, drop: false }, libraries: [smpte([30_000, 1001], false), other('29.97', false)] },
  { name: '29.97 DF', format: { base: 30, drop: true }, libraries: [smpte([30_000, 1001], true), other('29.97', true)] },
  { name: '48', format: { base: 48, drop: false }, libraries: [smpte([48, 1], false), other('48', false)] },
  { name: '50', format: { base: 50, drop: false }, libraries: [smpte([50, 1], false), other('50', false)] },
  { name: '59.94 NDF', format: { base: 60, drop: false }, libraries: [smpte([60_000, 1001], false), other('59.94', false)] },
  { name: '59.94 DF', format: { base: 60, drop: true }, libraries: [smpte([60_000, 1001], true), other('59.94', true)] },
  { name: '120', format: { base: 120, drop: false }, libraries: [smpte([120, 1], false)] },
];

/** Every 13th frame of a day (17th above base 60; neither shares a factor with any base), and the ten frames round each minute. */
function* framesToCompare(format: TimecodeFormat): Generator<number> {
  const day = framesPerDay(format);
  for (let frame = 0; frame < day; frame += format.base > 60 ? 17 : 13) yield frame;
  for (let minute = 1; minute < 1440; minute += 1) {
    const start = parseLabel(`${Math.floor(minute / 60)}:${minute % 60}:1:0`, format).frame - format.base;
    for (let frame = start - 5; frame < start + 5; frame += 1) yield frame;
  }
}

describe('other libraries', () => {
  it.each(CASES)('count as gemel does at $name, both ways', ({ format, libraries }) => {
    let compared = 0;
    for (const frame of framesToCompare(format)) {
      const label = formatTimecode({ frame, format });
      for (const library of libraries) {
        const byFrame = library(frame).label;
        const byLabel = library(label).frame;
        // One expect a frame would take minutes.
        if (byFrame !== label || byLabel !== frame) expect({ frame, label }).toEqual({ frame: byLabel, label: byFrame });
        compared += 1;
      }
    }
    expect(compared).toBeGreaterThan(170_000 * libraries.length);
  });
});
