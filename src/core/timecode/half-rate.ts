import type { FrameRange } from './range.ts';
import type { FrameRate } from './rate.ts';
import { nominalBase } from './rate.ts';
import type { Timecode, TimecodeFormat } from './timecode.ts';

// Above 30 fps a label often counts pairs of frames: a file of 50 or 60 fps with labels that count to 24 or 29 (ST 12-1), or
// one of 100 or 120 with labels for four or five frames at a time (ST 12-3). The rate of the file, the base of its labels and
// the rate of the sensor are three values; only the first two meet here.

/** Frames of the file under one label: 1, or 2 where a 50 fps file carries labels of base 25. Undefined when they do not fit. */
export function framesPerLabel(rate: FrameRate, format: TimecodeFormat): number | undefined {
  const each = nominalBase(rate) / format.base;
  return Number.isInteger(each) && each > 0 ? each : undefined;
}

/** The label of a frame of the file, counted from its first, which carries `start`. A file begins with the first frame of a label unless `phase` says how far in. */
export function labelOfFrame(start: Timecode, frame: number, perLabel: number, phase = 0): Timecode {
  return { frame: start.frame + Math.floor((frame + phase) / perLabel), format: start.format };
}

/** The frames of the file that carry the label which lies `labels` after that of its first frame. */
export function framesOfLabel(labels: number, perLabel: number, phase = 0): FrameRange {
  const start = labels * perLabel - phase;
  return { start, end: start + perLabel };
}

/**
 * A label that counts pairs (fours, fives), counted in full: at 25 the second frame (`phase` 1) of `10:00:00:12` is `10:00:00:25`
 * at 50. Two labels dropped a minute at 30 are the four dropped at 60, so drop frame stays drop frame.
 */
export function expandPairCount({ frame, format }: Timecode, perLabel: number, phase = 0): Timecode {
  return { frame: frame * perLabel + phase, format: { base: format.base * perLabel, drop: format.drop } };
}
