import { describe, expect, it } from 'vitest';
import { rateFromDecimal } from '../../../src/core/timecode/rate.ts';
import { readLabel } from '../../../src/core/timecode/read-label.ts';
import { TimecodeError, formatTimecode, parseLabel, shiftTimecode } from '../../../src/core/timecode/timecode.ts';

// Where the figures come from:
// OTIO    OpenTimelineIO's published tests of rational time and timecode
// FFmpeg  frame number stored in the timecode track by FFmpeg 5.1.9 for `-timecode LABEL`
// 2059-1  SMPTE ST 2059-1's formula for 30 drop frame: 107892 an hour, 17982 ten minutes, 1798 a minute
// ST 12-1 SMPTE ST 12-1 counting as the standard defines it (ST 12-3 for 100 and 120)
// camera  a camera's own export that prints label and frame count side by side
const VALUES: readonly (readonly [string, string, number, string])[] = [
  ['29.97', '00:00:00;02', 2, 'OTIO'],
  ['29.97', '00:00:59;29', 1799, 'OTIO, FFmpeg'],
  ['29.97', '00:01:00;02', 1800, 'OTIO, FFmpeg'],
  ['29.97', '00:04:59;29', 8991, 'OTIO'],
  ['29.97', '00:05:00;02', 8992, 'OTIO'],
  ['29.97', '00:06:59;29', 12_587, 'OTIO'],
  ['29.97', '00:07:00;02', 12_588, 'OTIO'],
  ['29.97', '00:09:59;29', 17_981, 'OTIO, FFmpeg'],
  ['29.97', '00:10:00;00', 17_982, 'OTIO, FFmpeg'],
  ['29.97', '01:00:00;00', 107_892, 'FFmpeg, 2059-1'],
  ['29.97', '01:59:59;29', 215_783, 'OTIO'],
  ['29.97', '02:00:00;00', 215_784, 'OTIO'],
  ['29.97', '02:30:00;00', 269_730, 'OTIO'],
  ['29.97', '10:00:00;00', 1_078_920, 'OTIO'],
  ['29.97', '10:02:59;29', 1_084_315, 'OTIO'],
  ['29.97', '10:03:00;05', 1_084_319, 'OTIO, FFmpeg'],
  ['29.97', '10:02:23:29', 1_084_319, 'OTIO, FFmpeg'],
  ['29.97', '23:59:59;29', 2_589_407, 'FFmpeg'],
  ['29.97', '23:59:59:29', 2_591_999, 'FFmpeg'],
  ['59.94', '00:00:59;59', 3599, 'FFmpeg'],
  ['59.94', '00:01:00;04', 3600, 'FFmpeg'],
  ['59.94', '00:10:00;00', 35_964, 'FFmpeg'],
  ['59.94', '01:00:00;00', 215_784, 'FFmpeg'],
  ['59.94', '23:59:59;59', 5_178_815, 'FFmpeg'],
  ['59.94', '01:00:00:00', 216_000, 'FFmpeg'],
  ['23.976', '00:00:01:00', 24, 'OTIO'],
  ['23.976', '01:00:00:00', 86_400, 'OTIO, FFmpeg'],
  ['23.976', '23:59:59:23', 2_073_599, 'OTIO, FFmpeg'],
  ['24', '13:36:49:07', 1_176_223, 'camera, FFmpeg'],
  ['24', '13:37:10:02', 1_176_722, 'camera'],
  ['24', '16:47:04:19', 1_450_195, 'camera, FFmpeg'],
  ['24', '16:47:29:06', 1_450_782, 'camera'],
  ['25', '15:03:47:02', 1_355_677, 'camera'],
  ['25', '15:04:46:23', 1_357_173, 'camera'],
  ['25', '23:59:59:24', 2_159_999, 'FFmpeg'],
  ['30', '01:00:00:00', 108_000, 'FFmpeg'],
  ['48', '01:00:00:00', 172_800, 'FFmpeg'],
  ['47.952', '01:00:00:00', 172_800, 'FFmpeg'],
  ['50', '01:00:00:00', 180_000, 'FFmpeg'],
  ['60', '01:00:00:00', 216_000, 'FFmpeg'],
  ['100', '01:00:00:00', 360_000, 'FFmpeg'],
  ['119.88', '00:01:00;008', 7200, 'FFmpeg'],
  ['120', '01:00:00:000', 432_000, 'FFmpeg'],
  ['119.88', '01:00:00:000', 432_000, 'FFmpeg'],
  ['119.88', '23:59:59;119', 10_357_631, 'ST 12-3'],
];

function read(label: string, rate: string, flag?: boolean): ReturnType<typeof readLabel> {
  const exact = rateFromDecimal(Number(rate));
  if (exact === undefined) throw new Error(`${rate} is no rate`);
  return readLabel(label, exact, flag);
}

describe('timecode', () => {
  it.each(VALUES)('at %s fps %s is frame %i (%s)', (rate, label, frame) => {
    const timecode = read(label, rate);
    expect(timecode.frame).toBe(frame);
    expect(formatTimecode(timecode)).toBe(label);
  });

  it.each([
    ['29.97', '01:04:59;29', 1, '01:05:00;02'],
    ['24', '16:47:04:19', 587, '16:47:29:06'],
    ['24', '01:20:52:10', 1, '01:20:52:11'],
    ['25', '15:03:47:02', 1496, '15:04:46:23'],
  ])('at %s fps %s and %i frames is %s', (rate, from, frames, to) => {
    expect(formatTimecode(shiftTimecode(read(from, rate), frames))).toBe(to);
  });

  it.each([
    [30, true, 2_589_408, '00:00:00;00'],
    [30, true, -1, '23:59:59;29'],
    [24, false, 2_073_600, '00:00:00:00'],
    [24, false, -1, '23:59:59:23'],
    [60, true, 5_178_816 + 3600, '00:01:00;04'],
    [24, false, -2 * 2_073_600, '00:00:00:00'],
  ])('of base %i (drop frame %s) goes round at midnight: frame %i is %s', (base, drop, frame, label) => {
    expect(formatTimecode({ frame, format: { base, drop } })).toBe(label);
  });
});

describe('a label is refused', () => {
  // ST 12-1: labels 00 and 01 (00 to 03 at 59.94) are left out at every minute that is not a tenth one.
  it.each([
    ['29.97', '00:01:00;00', 'does not exist in drop frame: minute 01 starts at frame 02'],
    ['29.97', '00:01:00;01', 'does not exist in drop frame'],
    ['29.97', '10:03:00;01', 'does not exist in drop frame: minute 03 starts at frame 02'],
    ['59.94', '00:01:00;03', 'does not exist in drop frame: minute 01 starts at frame 04'],
    ['119.88', '00:01:00;007', 'does not exist in drop frame: minute 01 starts at frame 08'],
    ['24', '24:00:00:00', 'hour 24 is beyond 23'],
    ['24', '01:60:00:00', 'minute 60 is beyond 59'],
    ['24', '01:00:60:00', 'second 60 is beyond 59'],
    ['24', '01:00:00:24', 'frame 24 does not exist at 24 labels a second (00 to 23)'],
    ['23.976', '01:00:00:24', 'frame 24 does not exist'],
    ['24', '01:00:00;00', 'there is no drop-frame timecode at 24 fps'],
    ['25', '01:00:00;00', 'there is no drop-frame timecode at 25 fps'],
    ['23.976', '01:00:00;00', 'there is no drop-frame timecode at 23.976 fps'],
    ['30', '01:00:00;00', 'there is no drop-frame timecode at 30 fps'],
    ['24', '01:00:00', 'expected HH:MM:SS:FF'],
    ['24', '', 'expected HH:MM:SS:FF'],
    ['24', '01:00:00:-1', 'expected HH:MM:SS:FF'],
    ['24', '１:00:00:00', 'expected HH:MM:SS:FF'],
    ['24', '01:00:00:00:00', 'expected HH:MM:SS:FF'],
    ['24', '001:00:00:00', 'expected HH:MM:SS:FF'],
  ])('at %s fps: %s', (rate, label, reason) => {
    expect(() => read(label, rate)).toThrow(TimecodeError);
    expect(() => read(label, rate)).toThrow(reason);
  });
});

describe('a label is taken', () => {
  it.each([
    ['29.97', '00:10:00;00', undefined, 17_982, true],
    ['29.97', '00:10:00;01', undefined, 17_983, true],
    ['29.97', ' 00:01:00;02 ', undefined, 1800, true],
    ['24', '0:00:01:00', undefined, 24, false],
    // Old lists write "," or "." before the frames for drop frame, some ";" throughout. Common practice, no source.
    ['29.97', '00:01:00,02', undefined, 1800, true],
    ['29.97', '00:01:00.02', undefined, 1800, true],
    ['29.97', '00;01;00;02', undefined, 1800, true],
    // A camera's flag beats the separator.
    ['29.97', '00:01:00:02', true, 1800, true],
    ['29.97', '00:01:00;02', false, 1802, false],
    ['29.97', '00:01:00:00', false, 1800, false],
    ['24', '01:00:00;00', false, 86_400, false],
  ])('at %s fps: %s with the flag %s is frame %i, drop frame %s', (rate, label, flag, frame, drop) => {
    const timecode = read(label, rate, flag);
    expect([timecode.frame, timecode.format.drop]).toEqual([frame, drop]);
  });

  it('without a flag ":" counts non-drop, so a minute mark reads two ways', () => {
    expect(parseLabel('00:10:00:00', { base: 30, drop: false }).frame - parseLabel('00:10:00:00', { base: 30, drop: true }).frame).toBe(18);
  });
});
