import { Buffer } from 'node:buffer';
import { FfmpegFrameSource } from '../../adapters/ffmpeg/ffmpeg-frame-source.ts';
import { PdfSheetPrinter } from '../../adapters/pdf/sheet-printer.ts';
import type { ClipId } from '../../core/material/clip-id.ts';
import type { Raster } from '../../core/material/statement.ts';
import { formatTagged, parseTagged } from '../../formats/catalogue/tagged-json.ts';
import type { PlannedStill } from '../../formats/sheet/content.ts';
import type { Catalogue, JobHands, ReadClipPath } from '../../ports.ts';
import type { PageToMake, SheetPorts } from '../../steps/sheet/deliver-sheets.ts';
import { STILL_WIDTH_PX, deliverSheets } from '../../steps/sheet/deliver-sheets.ts';
import type { SheetPlan } from '../../steps/sheet/plan-sheets.ts';
import { gemelVersion } from '../assets.ts';
import { DayStills } from '../day-stills.ts';
import { locate } from '../tools.ts';
import { assertVersion } from './assert-version.ts';
import type { FarmHands } from './farm-hands.ts';
import type { Mounts, SharedPath } from './mounts.ts';
import { fromShared, toShared } from './mounts.ts';

/** Under this the catalogue keeps printed pages, by what they are made of. */
const PAGE = 'page';

interface PageWork {
  readonly version: string;
  readonly madeOf: string;
  readonly plan: SheetPlan;
  readonly clips: readonly SharedClip[];
  /** Stills to keep apart for the board, which are decoded on the way. */
  readonly wanted: readonly PlannedStill[];
}

interface SharedClip {
  readonly id: ClipId;
  readonly at: SharedPath;
  readonly clip: Pick<ReadClipPath['clip'], 'file' | 'kind' | 'sequence'>;
  readonly rateText: string | undefined;
  readonly raster: Raster | undefined;
  readonly content: string | undefined;
}

interface FarmPages {
  readonly locate: SheetPorts['locate'];
  readonly wanted: readonly PlannedStill[];
  readonly contentOf: (clip: ClipId) => string | undefined;
  readonly signal: AbortSignal;
}

/** Has pages made by the workers of a farm. */
export function pagesFromFarm(catalogue: Catalogue, { farm, mounts }: FarmHands, { locate: locateClip, wanted, contentOf, signal }: FarmPages): NonNullable<SheetPorts['elsewhere']> {
  const sharedClip = (id: ClipId): readonly SharedClip[] => {
    const path = locateClip(id);
    if (path === undefined) return [];
    const { file, kind, sequence } = path.clip;
    return [{ id, at: toShared(path.path, mounts), clip: { file, kind, ...(sequence === undefined ? {} : { sequence }) }, rateText: path.rateText, raster: path.raster, content: contentOf(id) }];
  };
  const workOf = ({ plan, madeOf }: PageToMake): PageWork => {
    const clips = [...new Set(plan.stills.map(({ clip }) => clip))];
    return { version: gemelVersion(), madeOf, plan, clips: clips.flatMap(sharedClip), wanted: wanted.filter(({ clip }) => clips.includes(clip)) };
  };
  return async (pages) => {
    const keys = pages.map(({ madeOf }) => madeOf);
    const known = await catalogue.find(PAGE, keys);
    const absent = pages.filter(({ madeOf }) => !known.has(madeOf));
    await farm.have('sheet', absent.map((page) => ({ key: page.madeOf, work: formatTagged(workOf(page)) })), signal);
    const made = absent.length === 0 ? known : await catalogue.find(PAGE, keys);
    return new Map([...made].map(([key, text]) => [key, Buffer.from(text, 'base64')]));
  };
}

/** A worker that prints pages and keeps them; `did` hears of each. */
export function printingHands(catalogue: Catalogue, mounts: Mounts, atOnce: number, did: (sheets: number) => void): JobHands {
  return {
    atOnce,
    work: async (text, signal) => {
      await doPageWork(asPageWork(parseTagged(text)), catalogue, mounts, signal);
      did(1);
    },
  };
}

async function doPageWork({ version, madeOf, plan, clips, wanted }: PageWork, catalogue: Catalogue, mounts: Mounts, signal: AbortSignal): Promise<void> {
  assertVersion(version);
  const ffmpeg = await locate('ffmpeg');
  if (ffmpeg.kind === 'missing' && plan.stills.length > 0) throw new Error('this worker has no ffmpeg (gemel doctor says how to get it)');
  const decoder = ffmpeg.kind === 'found' ? new FfmpegFrameSource(ffmpeg.path) : { stills: async () => [] };
  const byId = new Map(clips.map((clip) => [clip.id, clip]));
  const locateClip = (id: ClipId): ReadClipPath | undefined => {
    const found = byId.get(id);
    return found === undefined ? undefined : { clip: found.clip, path: fromShared(found.at, mounts), rateText: found.rateText, raster: found.raster };
  };
  const stills = new DayStills(wanted, catalogue, (id) => byId.get(id)?.content);
  let undecoded = '';
  await deliverSheets([plan], {
    printer: new PdfSheetPrinter(),
    frames: stills.keeping(decoder),
    locate: locateClip,
    output: {
      holds: async () => false,
      write: async (_file, bytes) => {
        // A page with empty boxes is for whoever asked to make, and to say why.
        if (undecoded !== '') throw new Error(undecoded);
        await catalogue.keep(PAGE, new Map([[madeOf, Buffer.from(bytes).toString('base64')]]));
      },
    },
    progress: { start() {}, advance() {}, done() {} },
    signal,
    undecoded: (clip, reason) => {
      undecoded = `${clip}: ${reason}`;
    },
  });
  await stills.all(decoder, locateClip, STILL_WIDTH_PX, signal);
}

function asPageWork(value: unknown): PageWork {
  const isWork = typeof value === 'object' && value !== null && 'madeOf' in value && 'plan' in value && 'clips' in value && 'wanted' in value;
  if (!isWork) throw new Error('this is no page job');
  return value as PageWork;
}
