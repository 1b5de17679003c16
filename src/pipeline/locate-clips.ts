import { basename, dirname, join } from 'node:path';
import type { MediaRoot } from '../adapters/filesystem/media-roots.ts';
import type { Clip, ClipId } from '../core/material/clip.ts';
import { formatRate } from '../core/timecode/rate.ts';
import type { ReadClipPath } from '../ports.ts';

/** Where each clip's bytes lie: its file below the media root it came from; undefined for clips whose pictures cannot be decoded. */
export function locateClips(clips: readonly Clip[], roots: readonly MediaRoot[]): (clip: ClipId) => ReadClipPath | undefined {
  const byId = new Map(clips.map((clip) => [clip.id, clip]));
  return (id) => {
    const clip = byId.get(id);
    if (clip === undefined || !clip.decodable || !clip.usable) return undefined;
    return { clip, path: pathOf(clip.file, roots), rateText: clip.rate === undefined ? undefined : formatRate(clip.rate), raster: clip.picture.raster?.value };
  };
}

function pathOf(file: string, roots: readonly MediaRoot[]): string {
  // Longest prefix first: "day03-2/" before "day03/" never both match, but "" matches everything.
  const root = roots.toSorted((a, b) => b.prefix.length - a.prefix.length).find(({ prefix }) => file.startsWith(prefix));
  if (root === undefined) throw new Error(`no media folder holds ${file}`);
  // A root may be a single file; then the clip's file is its base name.
  const rest = file.slice(root.prefix.length);
  return basename(root.path) === rest ? join(dirname(root.path), rest) : join(root.path, rest);
}
