import type { CutEvent } from '../../core/material/cut-event.ts';

/** Events track by track from the bottom, each in record order; those that share a place keep their order. */
export function sameTrackOrder(events: readonly CutEvent[]): readonly CutEvent[] {
  return events.toSorted((a, b) => trackNumber(a.track) - trackNumber(b.track) || a.record.start - b.record.start);
}

/** 2 for "V2". */
export function trackNumber(track: string): number {
  return Number(/\d+$/u.exec(track)?.[0] ?? 0);
}
