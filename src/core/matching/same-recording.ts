import type { Clip } from '../material/clip.ts';

/** Whether two clips are one recording that lies in the folders twice (a copy, a proxy): same name, length and timecode, same size where there is none. */
export function sameRecording(a: Clip, b: Clip): boolean {
  if (a.frames !== b.frames || a.start?.frame !== b.start?.frame) return false;
  if (a.start === undefined && a.sizeBytes !== b.sizeBytes) return false;
  return stem(a) === stem(b);
}

/** The file name without folder and extension, in lower case. */
function stem({ file }: Clip): string {
  return file.slice(file.lastIndexOf('/') + 1).replace(/\.[^.]*$/u, '').normalize('NFC').toLowerCase();
}
