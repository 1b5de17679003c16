import type { Clip } from '../../core/material/clip.ts';
import { clipOf } from './report-clip.ts';
import { sortedBy } from './order.ts';

/** Clips as the report holds them, as JSON text with a line break at the end. */
export function formatReadClips(clips: readonly Clip[]): string {
  return `${JSON.stringify(sortedBy(clips, ({ id }) => id).map(clipOf), undefined, 2)}\n`;
}
