import type { LumaFrame } from '../frame.ts';
import { lumaFrame } from '../frame.ts';
import { medianInPlace } from './order.ts';

/** The middle value of each pixel over the frames: what stands there most of the time. @throws {RangeError} without frames. */
export function temporalMedian(frames: readonly LumaFrame[]): LumaFrame {
  const first = firstOf(frames);
  const column = new Float32Array(frames.length);
  const values = new Float32Array(first.values.length);
  for (let i = 0; i < values.length; i++) {
    for (let t = 0; t < frames.length; t++) column[t] = frames[t]?.values[i] ?? 0;
    values[i] = medianInPlace(column, column.length);
  }
  return lumaFrame(first.width, first.height, values);
}

/** The mean of each pixel over the frames. @throws {RangeError} without frames. */
export function temporalMean(frames: readonly LumaFrame[]): LumaFrame {
  const first = firstOf(frames);
  const values = new Float32Array(first.values.length);
  for (const frame of frames) for (let i = 0; i < values.length; i++) values[i] = (values[i] ?? 0) + (frame.values[i] ?? 0) / frames.length;
  return lumaFrame(first.width, first.height, values);
}

function firstOf(frames: readonly LumaFrame[]): LumaFrame {
  const first = frames[0];
  if (first === undefined) throw new RangeError('no frames');
  return first;
}
