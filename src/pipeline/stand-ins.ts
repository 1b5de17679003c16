import { mediaRoots } from '../adapters/filesystem/media-roots.ts';
import type { Config } from '../config/resolved.ts';
import type { Clip, ClipId } from '../core/material/clip.ts';
import { formatTimecode } from '../core/timecode/timecode.ts';
import type { Progress, ReadClipPath } from '../ports.ts';
import { groupDay } from '../steps/group/group-day.ts';
import { locateClips } from './locate-clips.ts';
import { readMedia } from './read-media.ts';

/** A proxy or reference movie that is looked at in place of a clip. `content` tells it from others of its name. */
export interface StandIn {
  readonly at: ReadClipPath;
  readonly file: string;
  readonly content: string;
}

/** Reads the folders of proxies the pipeline names and ties each movie to its clip, by name and timecode. What fits nothing is left alone. */
export async function findStandIns(clips: readonly Clip[], config: Config, tools: { readonly progress: Progress; readonly signal: AbortSignal; readonly warnings: string[] }): Promise<ReadonlyMap<ClipId, StandIn>> {
  if (config.proxies.length === 0) return new Map();
  const own = { ...config, media: config.proxies, cuts: [], shotList: undefined, corrections: [] };
  const proxies = groupDay(await readMedia(own, { ...tools, catalogue: undefined }), own).clips.filter(({ usable, decodable }) => usable && decodable);
  const at = locateClips(proxies, await mediaRoots(config.proxies));
  const found = new Map<ClipId, StandIn>();
  for (const clip of clips) {
    const fitting = proxies.filter((proxy) => isProxyOf(proxy, clip)).toSorted((a, b) => (a.file < b.file ? -1 : 1));
    const [proxy] = fitting;
    const place = proxy === undefined ? undefined : at(proxy.id);
    if (proxy === undefined || place === undefined) continue;
    if (fitting.length > 1) tools.warnings.push(`${clip.file}: ${fitting.length} proxies fit it; ${proxy.file} is looked at`);
    found.set(clip.id, { at: place, file: proxy.file, content: `proxy ${proxy.file} ${proxy.sizeBytes} ${proxy.frames ?? 0}` });
  }
  return found;
}

/** Same name up to an ending such as "_proxy"; timecode and length must not say otherwise where both have them. */
export function isProxyOf(proxy: Clip, clip: Clip): boolean {
  const [name, own] = [stem(proxy.file), stem(clip.file)];
  const sameName = own.length > 0 && (name === own || (name.startsWith(own) && /^[^a-z0-9]/.test(name.slice(own.length))));
  const label = ({ start }: Clip): string | undefined => (start === undefined ? undefined : formatTimecode(start));
  const [a, b] = [label(proxy), label(clip)];
  return sameName && (a === undefined || b === undefined || a === b) && (proxy.frames === undefined || clip.frames === undefined || Math.abs(proxy.frames - clip.frames) <= 1);
}

function stem(file: string): string {
  const name = file.slice(file.lastIndexOf('/') + 1);
  const dot = name.lastIndexOf('.');
  return (dot <= 0 ? name : name.slice(0, dot)).replace(/\.#+$/, '').toLowerCase();
}
