import { PictureThreads } from '../adapters/ffmpeg/picture-threads.ts';
import { mediaRoots } from '../adapters/filesystem/media-roots.ts';
import type { Config } from '../config/resolved.ts';
import type { Clip, ClipId } from '../core/material/clip.ts';
import type { ReadDay } from '../core/material/day.ts';
import type { Catalogue, Progress } from '../ports.ts';
import type { DayPictures } from '../steps/picture/measure-pictures.ts';
import { evidenceOf, measurePictures } from '../steps/picture/measure-pictures.ts';
import type { Locate } from '../steps/picture/plan-pictures.ts';
import { planPictures } from '../steps/picture/plan-pictures.ts';
import type { FarmHands } from './farm/farm-hands.ts';
import { measureOnFarm } from './farm/decode-jobs.ts';
import { locateClips } from './locate-clips.ts';
import { matchRead } from './match-read.ts';
import type { StandIn } from './stand-ins.ts';
import { findStandIns } from './stand-ins.ts';
import { locate } from './tools.ts';

/** What looking at pictures needs. */
export interface PictureTools {
  readonly progress: Progress;
  readonly signal: AbortSignal;
  readonly warnings: string[];
  readonly catalogue: Catalogue | undefined;
  /** Machines that measure as well; with a catalogue. */
  readonly farm?: FarmHands | undefined;
  /** True for a watch: it looks at raw cards only when the pipeline says so, and else at proxies alone. */
  readonly watching: boolean;
}

/**
 * Measures the pictures of a day. Where sound or camera motion tell how passes lie over each other, the day is matched again by it,
 * and what is then matched otherwise is measured again. Undefined when no pictures are to be looked at, or cannot be.
 */
export async function dayPictures(read: ReadDay, config: Config, { progress, signal, warnings, catalogue, farm, watching }: PictureTools): Promise<DayPictures | undefined> {
  if (config.pictures === false || (watching && config.pictures === undefined && config.proxies.length === 0)) return undefined;
  const [ffmpeg, ffprobe] = [await locate('ffmpeg'), await locate('ffprobe')];
  if (ffmpeg.kind === 'missing' || ffprobe.kind === 'missing') {
    warnings.push('no ffmpeg or no ffprobe: the pictures were not looked at (gemel doctor says how to get them)');
    return undefined;
  }
  const matched = matchRead(read, config);
  const standIns = await findStandIns(matched.grouped.clips, config, { progress, signal, warnings });
  const at = await placesOf(matched.grouped.clips, config, standIns, watching && config.pictures === undefined);
  const places = await catalogue?.places();
  const contentOf = (clip: ClipId): string | undefined => standIns.get(clip)?.content ?? places?.get(clip)?.content;
  await using meter = new PictureThreads({ ffmpeg: ffmpeg.path, ffprobe: ffprobe.path });
  const ports = { meter, progress, signal, ...(catalogue === undefined ? {} : { memory: { catalogue, contentOf, ...(farm === undefined ? {} : { elsewhere: measureOnFarm(farm, signal) }) } }) };
  const first = await measurePictures(planPictures(matched, config, at), ports);
  const evidence = evidenceOf(first.leads);
  return evidence.length === 0 ? first : measurePictures(planPictures(matchRead(read, config, evidence), config, at), ports, first);
}

async function placesOf(clips: readonly Clip[], config: Config, standIns: ReadonlyMap<ClipId, StandIn>, proxiesOnly: boolean): Promise<Locate> {
  const at = locateClips(clips, await mediaRoots(config.media));
  const byId = new Map(clips.map((clip) => [clip.id, clip]));
  return (id) => {
    const clip = byId.get(id);
    const standIn = standIns.get(id);
    const frames = clip?.frames === undefined ? {} : { frames: clip.frames };
    if (standIn !== undefined) return { place: { at: standIn.at, ...frames }, standIn: standIn.file };
    const place = proxiesOnly ? undefined : at(id);
    if (place === undefined) return { why: proxiesOnly ? 'no proxy of it' : 'not decodable here, and no proxy of it' };
    const squeeze = clip?.lens.squeeze?.value;
    return { place: { at: place, ...frames, ...(squeeze === undefined ? {} : { squeeze }) } };
  };
}
