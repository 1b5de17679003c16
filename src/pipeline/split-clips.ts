import { readFile, rename, stat, unlink, writeFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { PictureThreads } from '../adapters/ffmpeg/picture-threads.ts';
import { mediaRoots } from '../adapters/filesystem/media-roots.ts';
import type { Config } from '../config/resolved.ts';
import type { Clip } from '../core/material/clip.ts';
import { UsageError } from '../core/material/errors.ts';
import { sameRate } from '../core/timecode/rate.ts';
import { groupDay } from '../steps/group/group-day.ts';
import type { PictureAnswer, PictureClip, Progress } from '../ports.ts';
import { locateClips } from './locate-clips.ts';
import { readMedia } from './read-media.ts';
import { locate } from './tools.ts';

/** Clips to be studied by hand: movies, or folders that hold one sequence each. */
export interface SplitOptions {
  readonly lead: string;
  readonly swapped: string;
  readonly clean?: string;
  /** Frame of the swapped pass = frame of the lead + offset; undefined: head to head, unless sound or camera motion says otherwise. */
  readonly offset?: number;
  /** Where a PNG picture of the line goes. */
  readonly picture?: string;
}

/** The study of two clips by hand. @throws {UsageError} when a clip is not there or cannot be decoded. */
export async function splitClips(config: Config, options: SplitOptions, progress: Progress, signal: AbortSignal): Promise<PictureAnswer> {
  const [ffmpeg, ffprobe] = [await locate('ffmpeg'), await locate('ffprobe')];
  if (ffmpeg.kind === 'missing' || ffprobe.kind === 'missing') throw new UsageError(['ffmpeg and ffprobe are needed to look at pictures (gemel doctor says how to get them)']);
  const read = async (path: string | undefined, name: string): Promise<Found | undefined> => (path === undefined ? undefined : findClip({ ...config, media: [resolve(path)] }, path, name, { progress, signal }));
  const [lead, swapped, clean] = await Promise.all([read(options.lead, 'lead'), read(options.swapped, 'swapped pass'), read(options.clean, 'clean plate')]);
  if (lead === undefined || swapped === undefined) throw new UsageError(['a lead and a swapped pass are needed']);
  const ratesDiffer = lead.clip.rate === undefined || swapped.clip.rate === undefined || !sameRate(lead.clip.rate, swapped.clip.rate);
  await using threads = new PictureThreads({ ffmpeg: ffmpeg.path, ffprobe: ffprobe.path }, 1);
  const [answer] = await threads.measure([{
    lead: lead.place, pass: swapped.place, ...(clean === undefined ? {} : { clean: clean.place }), elements: [],
    offset: options.offset ?? 0, offsetIsGuess: options.offset === undefined, range: { start: 0, end: Number.MAX_SAFE_INTEGER },
    rate: ratesDiffer ? undefined : lead.clip.rate, movingCamera: false, wantsLine: true, wantsWhole: options.picture !== undefined,
  }], signal);
  if (answer === undefined || 'undecodable' in answer) throw new UsageError([`the pictures cannot be read: ${answer?.undecodable ?? 'no answer'}`]);
  if (options.picture !== undefined) await writePicture(resolve(options.picture), answer.shown?.whole);
  return answer;
}

interface Found {
  readonly clip: Clip;
  readonly place: PictureClip;
}

/** The one clip at a path. */
async function findClip(config: Config, path: string, name: string, tools: { readonly progress: Progress; readonly signal: AbortSignal }): Promise<Found> {
  const { clips } = groupDay(await readMedia(config, { ...tools, warnings: [] }), config);
  const [clip] = clips;
  if (clip === undefined || clips.length > 1) throw new UsageError([`${path}: ${clips.length} clips where one is needed as the ${name}`]);
  const at = locateClips(clips, await mediaRoots(config.media))(clip.id);
  if (at === undefined) throw new UsageError([`${path}: not decodable here: ${clip.usable ? 'its pictures need a decoder that ffmpeg lacks; give a proxy of it' : clip.completeness}`]);
  return { clip, place: { at, everyFrame: true, ...(clip.frames === undefined ? {} : { frames: clip.frames }), ...(clip.lens.squeeze === undefined ? {} : { squeeze: clip.lens.squeeze.value }) } };
}

/** Whole or absent, and never over something that is no picture: a slip of the keyboard must not cost a clip. */
async function writePicture(path: string, bytes: Uint8Array | undefined): Promise<void> {
  if (bytes === undefined) throw new UsageError(['there is no picture to write: the passes share no frame']);
  const older = await stat(path).catch(() => undefined);
  if (older !== undefined && !(await isPng(path))) throw new UsageError([`${path} is there and no PNG picture; it is left alone`]);
  const unfinished = join(dirname(path), `.${basename(path)}.unfinished`);
  try {
    await writeFile(unfinished, bytes);
    await rename(unfinished, path);
  } catch (failure) {
    await unlink(unfinished).catch(() => {});
    throw failure;
  }
}

async function isPng(path: string): Promise<boolean> {
  const bytes = await readFile(path).catch(() => new Uint8Array());
  return Buffer.from(bytes.subarray(0, 8)).toString('hex') === '89504e470d0a1a0a';
}
