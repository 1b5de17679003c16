import type { ClipOptics } from '../../core/checks/clip-optics.ts';
import type { Clip } from '../../core/material/clip.ts';
import { sortedBy } from './order.ts';
import { opticsOf } from './read-optics.ts';
import { clipOf } from './report-clip.ts';

/** Clips as the report holds them, each with what its optics come to, as JSON text with a line break at the end. */
export function formatReadClips(clips: readonly Clip[], optics: (clip: Clip) => ClipOptics): string {
  return `${JSON.stringify(sortedBy(clips, ({ id }) => id).map((clip) => ({ ...clipOf(clip), optics: opticsOf(optics(clip)) })), undefined, 2)}\n`;
}
