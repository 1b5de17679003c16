import { PictureThreads } from '../../adapters/ffmpeg/picture-threads.ts';
import { textDigest } from '../../formats/catalogue/digest.ts';
import { formatTagged, parseTagged } from '../../formats/catalogue/tagged-json.ts';
import type { Catalogue, JobHands, PictureClip, PictureOrder, ReadClipPath } from '../../ports.ts';
import type { PictureElsewhere, PictureMemory } from '../../steps/picture/measure-pictures.ts';
import { PICTURE, pictureText } from '../../steps/picture/measure-pictures.ts';
import { signatureOf } from '../../steps/read/content-name.ts';
import { gemelVersion } from '../assets.ts';
import { locate } from '../tools.ts';
import { assertVersion } from './assert-version.ts';
import type { FarmHands } from './farm-hands.ts';
import { findClip } from './find-clip.ts';
import type { Mounts, SharedPath } from './mounts.ts';
import { fromShared, toShared } from './mounts.ts';

/** One set, for each of its clips is decoded once for all that is asked of it. */
interface DecodeWork {
  readonly version: string;
  readonly orders: readonly { readonly key: string; readonly order: PictureOrder }[];
  /** Where each clip of the orders lies, by the path it has there, and what it looked like. */
  readonly places: readonly { readonly path: string; readonly at: SharedPath; readonly signature: string }[];
}

/** Has pictures measured by the workers of a farm, a set a job. */
export function measureOnFarm({ farm, mounts }: FarmHands, signal: AbortSignal): NonNullable<PictureMemory['elsewhere']> {
  return async (sets, onDone) => {
    const jobs = await Promise.all(sets.map(async (set) => jobOf(set, mounts, signal)));
    let [leads, left] = [sets.flat().length, jobs.length];
    await farm.have('decode', jobs, signal, (done) => {
      const share = left === done ? leads : Math.min(leads, Math.round((leads * done) / left));
      [leads, left] = [leads - share, left - done];
      onDone(share);
    });
  };
}

async function jobOf(set: readonly PictureElsewhere[], mounts: Mounts, signal: AbortSignal): Promise<{ readonly key: string; readonly work: string }> {
  const paths = [...new Set(set.flatMap(({ order }) => clipsOf(order).map(({ at }) => at.path)))];
  const places = await Promise.all(
    paths.map(async (path) => {
      const found = await findClip(path, signal);
      return { path, at: toShared(path, mounts), signature: found === undefined ? '' : signatureOf(found) };
    }),
  );
  const work: DecodeWork = { version: gemelVersion(), orders: set.map(({ key, order }) => ({ key, order: moved(order, bare) })), places };
  return { key: textDigest(set.map(({ key }) => key).join('\n')), work: formatTagged(work) };
}

function clipsOf({ lead, pass, clean, elements }: PictureOrder): readonly PictureClip[] {
  return [lead, pass, clean, ...elements].filter((clip) => clip !== undefined);
}

/** A worker that measures pictures and keeps what it measured; `did` hears of how many leads. Close it when it is no longer needed. */
export function measuringHands(catalogue: Catalogue, mounts: Mounts, atOnce: number, did: (leads: number) => void): JobHands & { close(): Promise<void> } {
  let meter: PictureThreads | undefined;
  return {
    atOnce,
    work: async (text, signal) => {
      const [ffmpeg, ffprobe] = [await locate('ffmpeg'), await locate('ffprobe')];
      if (ffmpeg.kind === 'missing' || ffprobe.kind === 'missing') throw new Error('this worker has no ffmpeg or no ffprobe (gemel doctor says how to get them)');
      meter ??= new PictureThreads({ ffmpeg: ffmpeg.path, ffprobe: ffprobe.path }, atOnce);
      did(await doDecodeWork(asDecodeWork(parseTagged(text)), { catalogue, mounts, meter }, signal));
    },
    close: async () => meter?.[Symbol.asyncDispose](),
  };
}

/** Keeps what could be measured, and answers how much that was. What cannot be decoded the watch tries for itself, and says why. */
async function doDecodeWork(work: DecodeWork, { catalogue, mounts, meter }: { readonly catalogue: Catalogue; readonly mounts: Mounts; readonly meter: PictureThreads }, signal: AbortSignal): Promise<number> {
  assertVersion(work.version);
  const known = await catalogue.find(PICTURE, work.orders.map(({ key }) => key));
  const open = work.orders.filter(({ key }) => !known.has(key));
  if (open.length === 0) return 0;
  const here = await placesHere(work, mounts, signal);
  const answers = await meter.measure(open.map(({ order }) => orderHere(order, here)), signal);
  const measured = open.flatMap(({ key }, index) => {
    const answer = answers[index];
    return answer === undefined || 'undecodable' in answer ? [] : [[key, pictureText(answer)] as const];
  });
  await catalogue.keep(PICTURE, new Map(measured));
  return measured.length;
}

/** The path each clip has on this machine, by the one it has where the job was put up. */
async function placesHere({ places }: DecodeWork, mounts: Mounts, signal: AbortSignal): Promise<ReadonlyMap<string, string>> {
  const here = new Map<string, string>();
  for (const { path, at, signature } of places) {
    const own = fromShared(at, mounts);
    const found = await findClip(own, signal);
    if (found === undefined || signatureOf(found) !== signature) throw new Error(`${at.path} is not as it was found: it changed, or the machines see different files`);
    here.set(path, own);
  }
  return here;
}

function orderHere(order: PictureOrder, here: ReadonlyMap<string, string>): PictureOrder {
  return moved(order, (at) => {
    const path = here.get(at.path);
    if (path === undefined) throw new Error(`the job does not say where ${at.clip.file} lies`);
    return { ...at, path };
  });
}

/** Of all that is known of a clip, what decoding it takes. */
function bare(at: ReadClipPath): ReadClipPath {
  const { file, kind, sequence } = at.clip;
  return { ...at, clip: { file, kind, ...(sequence === undefined ? {} : { sequence }) } };
}

function moved(order: PictureOrder, place: (at: ReadClipPath) => ReadClipPath): PictureOrder {
  const clip = (one: PictureClip): PictureClip => ({ ...one, at: place(one.at) });
  return {
    ...order,
    lead: clip(order.lead),
    ...(order.pass === undefined ? {} : { pass: clip(order.pass) }),
    ...(order.clean === undefined ? {} : { clean: clip(order.clean) }),
    elements: order.elements.map(clip),
  };
}

function asDecodeWork(value: unknown): DecodeWork {
  const isWork = typeof value === 'object' && value !== null && 'orders' in value && Array.isArray(value.orders) && 'places' in value;
  if (!isWork) throw new Error('this is no decoding job');
  return value as DecodeWork;
}
