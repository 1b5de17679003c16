import type { FrameRange } from '../../core/timecode/range.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { rateFromDecimal, sameRate } from '../../core/timecode/rate.ts';
import { record, typed } from './schema.ts';

/** A time: so many frames of a rate. */
export interface Time {
  readonly value: number;
  readonly rate: FrameRate;
}

/** A range from its start, so long. */
export interface Span {
  readonly start: Time;
  readonly duration: Time;
}

/** A time or range that cannot be used, and why. */
export interface TimeFault {
  readonly found: string;
  readonly expected: string;
}

/** How far a number of frames may lie from a whole one and still be it. */
const WHOLE = 1e-6;

/** A RationalTime; undefined when absent or null. */
export function readTime(value: unknown): Time | TimeFault | undefined {
  if (value === undefined || value === null) return undefined;
  const time = typed(value)?.name === 'RationalTime' ? record(value) : undefined;
  if (time === undefined) return { found: shown(value), expected: 'a RationalTime' };
  const { value: frames, rate } = time;
  if (typeof frames !== 'number' || !Number.isFinite(frames)) return { found: `value ${shown(frames)}`, expected: 'a finite number of frames' };
  const exact = typeof rate === 'number' && Number.isFinite(rate) && rate > 0 ? rateFromDecimal(rate) : undefined;
  if (exact === undefined) return { found: `rate ${shown(rate)}`, expected: 'a rate above 0' };
  return { value: whole(frames), rate: exact };
}

/** A TimeRange; undefined when absent or null. A range may not be negative. */
export function readSpan(value: unknown): Span | TimeFault | undefined {
  if (value === undefined || value === null) return undefined;
  const range = typed(value)?.name === 'TimeRange' ? record(value) : undefined;
  if (range === undefined) return { found: shown(value), expected: 'a TimeRange' };
  const start = readTime(range['start_time']);
  const duration = readTime(range['duration']);
  if (start === undefined || duration === undefined) return { found: 'a range without start_time or duration', expected: 'both' };
  if (isFault(start)) return start;
  if (isFault(duration)) return duration;
  if (duration.value < 0) return { found: `duration ${duration.value}`, expected: 'a duration of 0 or more' };
  return { start, duration };
}

export function isFault(value: Time | Span | TimeFault | undefined): value is TimeFault {
  return value !== undefined && 'expected' in value;
}

/** Frames of another rate, whole where they come within a millionth of it. */
export function framesAt({ value, rate }: Time, other: FrameRate): number {
  return sameRate(rate, other) ? value : whole((value * (other.num * rate.den)) / (other.den * rate.num));
}

/** Frames of a range at a rate, the end exclusive. */
export function spanAt({ start, duration }: Span, rate: FrameRate): FrameRange {
  const first = framesAt(start, rate);
  return { start: first, end: whole(first + framesAt(duration, rate)) };
}

/** The whole number of frames next to it when it is that within a millionth, else itself. */
export function whole(frames: number): number {
  const near = Math.round(frames);
  return Math.abs(frames - near) <= WHOLE ? near + 0 : frames;
}

function shown(value: unknown): string {
  const written = typeof value === 'string' ? value : (JSON.stringify(value, null, 0) ?? 'nothing');
  return written.length > 60 ? `${written.slice(0, 59)}…` : written;
}
