import { spanOf } from '../coverage/span.ts';
import type { Clip } from '../material/clip.ts';
import { nominalBase } from '../timecode/rate.ts';
import type { Timecode, TimecodeFormat } from '../timecode/timecode.ts';
import { framesPerDay, sameFormat } from '../timecode/timecode.ts';

/** A clip whose first frame has a timecode. */
export type ClockedClip = Clip & { readonly start: Timecode };

export function hasClock(clip: Clip): clip is ClockedClip {
  return clip.start !== undefined;
}

/** Seconds since midnight that the clip's first label stands for. Only for sorting: equal times are equal numbers. */
export function secondsOfDay({ start }: ClockedClip): number {
  const { num, den } = secondsPerLabel(start.format);
  return (onDial(start.frame, framesPerDay(start.format)) * num) / den;
}

/** Seconds from the start of `a` to that of `b`, which was recorded later: past midnight if need be, by the dates where they differ. */
export function secondsForward(a: ClockedClip, b: ClockedClip): number {
  const { ticks, day, perSecond } = difference(a.start, b.start);
  const days = daysBetween(a.date, b.date);
  return (days === 0 ? onDial(ticks, day) : ticks + days * day) / perSecond;
}

/**
 * Seconds from the start of `a` to the start of `b`, negative when `b` was first; undefined without timecode. Dates that differ
 * count; without them (or on one date, which is often the shooting day's) the shorter way round the clock is meant.
 */
export function secondsBetween(a: Clip, b: Clip): number | undefined {
  if (!hasClock(a) || !hasClock(b)) return undefined;
  const { ticks, day, perSecond } = difference(a.start, b.start);
  const days = daysBetween(a.date, b.date);
  if (days !== 0) return (ticks + days * day) / perSecond;
  const forward = onDial(ticks, day);
  return (2 * forward > day ? forward - day : forward) / perSecond;
}

/** Seconds of timecode a clip takes up, 0 when its length is not known. */
export function secondsOfLabels(clip: ClockedClip): number {
  const { num, den } = secondsPerLabel(clip.start.format);
  const perLabel = clip.rate === undefined ? 1 : nominalBase(clip.rate) / clip.start.format.base;
  return ((spanOf(clip) ?? 0) * num) / (den * perLabel);
}

/** From one label to another in ticks, and how many ticks make a day and a second; whole numbers, so nothing is rounded. */
function difference(a: Timecode, b: Timecode): { readonly ticks: number; readonly day: number; readonly perSecond: number } {
  const { num, den } = secondsPerLabel(a.format);
  if (sameFormat(a.format, b.format)) {
    return { ticks: (b.frame - a.frame) * num, day: framesPerDay(a.format) * num, perSecond: den };
  }
  const other = secondsPerLabel(b.format);
  return { ticks: b.frame * other.num * den - a.frame * num * other.den, day: 86_400 * den * other.den, perSecond: den * other.den };
}

/** Drop-frame labels keep step with the clock only because some are left out: each lasts 1001/1000 of its nominal time. */
function secondsPerLabel({ base, drop }: TimecodeFormat): { readonly num: number; readonly den: number } {
  return drop ? { num: 1001, den: 1000 * base } : { num: 1, den: base };
}

function onDial(ticks: number, day: number): number {
  return ((ticks % day) + day) % day;
}

/** 0 when either date is unknown or not written as year, month, day. */
function daysBetween(a: string | undefined, b: string | undefined): number {
  if (a === b) return 0;
  const first = dayNumber(a);
  const second = dayNumber(b);
  return first === undefined || second === undefined ? 0 : second - first;
}

/** Days since 1970 of a date written as year, month, day. */
export function dayNumber(date: string | undefined): number | undefined {
  const [, year, month, day] = /^(\d{4})-?(\d{2})-?(\d{2})/.exec(date ?? '') ?? [];
  return year === undefined ? undefined : Date.UTC(Number(year), Number(month) - 1, Number(day)) / 86_400_000;
}
