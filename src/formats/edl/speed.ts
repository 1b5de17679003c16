import type { Retime } from '../../core/material/cut.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { nominalBase, rateAsNumber } from '../../core/timecode/rate.ts';
import type { FrameRange } from '../../core/timecode/range.ts';

/** An M2 line: how many source frames play a second, from which source frame. `name` is the reel, or a clip name. */
export interface SpeedLine {
  readonly line: number;
  readonly name: string;
  readonly speed: number;
  readonly time: string;
}

/** Reads `M2 NAME SPEED TIMECODE`; undefined when it is not that. The name may be missing, or carry spaces. */
export function parseSpeedLine(text: string, line: number): SpeedLine | undefined {
  const parts = /^\s*M2\s+(?:(\S.{0,200}?)\s+)?([+-]?\d{1,5}(?:\.\d{1,6})?)\s+(\d\S*)\s*$/iu.exec(text);
  if (parts === null) return undefined;
  return { line, name: parts[1] ?? '', speed: Number(parts[2]), time: parts[3] ?? '' };
}

/** SPEED is written to a tenth, and 24 in a list of 23.976 plays at its own pace. */
const ROUNDING = 0.1;

/** The retime an M2 speed stands for; undefined when it is the list's own pace. */
export function retimeOf(speed: number, rate: FrameRate): Retime | undefined {
  if (speed === 0) return { kind: 'freeze', words: 'freeze frame' };
  const base = nominalBase(rate);
  if (Math.abs(speed - base) <= ROUNDING / 2 || Math.abs(speed - rateAsNumber(rate)) <= ROUNDING / 2) return undefined;
  const ratio = speed / base;
  const percent = String(Math.round(Math.abs(ratio) * 10_000) / 100);
  return { kind: 'speed', ratio, words: `${percent} % speed${ratio < 0 ? ', reversed' : ''}, M2 ${speed} at ${base}` };
}

/**
 * How many source frames a retimed event needs from its first to its last: (record - 1) × speed + 1, which fits lists as they are
 * written within a frame (measured on the retimed events of a public sample list of the open CMX 3600 adapter of OpenTimelineIO).
 */
export function framesUsed(recordFrames: number, ratio: number): number {
  return recordFrames <= 0 ? 0 : Math.ceil((recordFrames - 1) * Math.abs(ratio) - 1e-6) + 1;
}

/** Whether a stated source length fits a retime: one frame, and the rounding of SPEED over the event, either way. */
export function fitsSpeed(sourceFrames: number, recordFrames: number, speed: number, rate: FrameRate): boolean {
  const base = nominalBase(rate);
  const expected = ((recordFrames - 1) * Math.abs(speed)) / base + 1;
  return Math.abs(sourceFrames - expected) <= 1 + (recordFrames * ROUNDING) / base;
}

/** The source frames of a retimed event: as stated where they fit, else from source in by the speed. */
export function retimedRange(stated: FrameRange, recordFrames: number, retime: Retime, fits: boolean): FrameRange {
  if (retime.kind === 'freeze') return { start: stated.start, end: stated.start + 1 };
  if (fits) return stated;
  return { start: stated.start, end: stated.start + framesUsed(recordFrames, retime.ratio) };
}
