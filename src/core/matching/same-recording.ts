import type { Clip } from '../material/clip.ts';
import { foldName, stemOf } from '../material/clip-names.ts';

/** Whether two clips are one recording that lies in the folders twice (a copy, a proxy): same name, length and timecode, same size where there is none. */
export function sameRecording(a: Clip, b: Clip): boolean {
  if (a.frames !== b.frames || a.start?.frame !== b.start?.frame) return false;
  if (a.start === undefined && a.sizeBytes !== b.sizeBytes) return false;
  return foldName(stemOf(a.file)) === foldName(stemOf(b.file));
}
