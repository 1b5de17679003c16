import type { SyncMethod } from '../../core/material/plate-set.ts';

/** How it is known which frame lies under which. A cut, a correction, a mark and equal timecode were stated by people or cameras; sound and motion are measured. */
const KNOWN_BY: Readonly<Record<SyncMethod, string>> = {
  correction: 'stated: corrections file',
  cut: 'stated: the cut',
  'equal-timecode': 'stated: equal timecode',
  'sync-mark': 'stated: sync mark',
  'guide-audio': 'measured: guide sound',
  'camera-motion': 'measured: camera motion',
  assumed: 'assumed',
};

/** "stated: sync mark, confidence 0.8", "assumed", "held, needs no sync": how sure a sync is, in words; a figure only where one was weighed. */
export function syncWords(method: string, confidence: number, held = false): string {
  if (held) return 'held, needs no sync';
  const known = Object.hasOwn(KNOWN_BY, method) ? KNOWN_BY[method as SyncMethod] : method;
  if (method === 'assumed' || method === 'correction' || method === 'lead') return known;
  return `${known}, confidence ${Math.round(confidence * 100) / 100}`;
}
