import { FfmpegFrameSource } from '../adapters/ffmpeg/ffmpeg-frame-source.ts';
import { mediaRoots } from '../adapters/filesystem/media-roots.ts';
import type { ResultFolder } from '../adapters/filesystem/result-folder.ts';
import { PdfSheetPrinter } from '../adapters/pdf/sheet-printer.ts';
import type { Config } from '../config/resolved.ts';
import { opticsSettings } from '../core/checks/clip-optics.ts';
import type { JudgedDay } from '../core/checks/judged.ts';
import type { ClipId } from '../core/material/clip-id.ts';
import { boardStills } from '../formats/board/board-set.ts';
import type { Catalogue, FrameSource, Progress } from '../ports.ts';
import { cardPages } from '../steps/sheet/card-pages.ts';
import { STILL_WIDTH_PX, deliverSheets } from '../steps/sheet/deliver-sheets.ts';
import { planSheets } from '../steps/sheet/plan-sheets.ts';
import { gemelVersion } from './assets.ts';
import { DrawnPictures } from './drawn-pictures.ts';
import { DayStills } from './day-stills.ts';
import type { FarmHands } from './farm/farm-hands.ts';
import { pagesFromFarm } from './farm/sheet-jobs.ts';
import { locateClips } from './locate-clips.ts';
import { loadTemplates } from './templates.ts';
import { locate } from './tools.ts';

/** What making pages needs. */
export interface PageWork {
  readonly output: ResultFolder;
  readonly progress: Progress;
  readonly signal: AbortSignal;
  readonly warnings: string[];
  readonly catalogue: Catalogue | undefined;
  readonly farm: FarmHands | undefined;
  /** Pictures that were drawn of what was measured, by lead. */
  readonly drawn?: ReadonlyMap<ClipId, readonly Uint8Array[]> | undefined;
}

/** The pages by their file names, and the stills the board shows. */
export interface MadePages {
  readonly pages: readonly string[];
  readonly stills: ReadonlyMap<string, Uint8Array>;
}

/** Makes the sheets and repeat cards of a day. A page that was made of the same things stands; on a farm the workers make the others. */
export async function makePages(day: JudgedDay, config: Config, { output, progress, signal, warnings, catalogue, farm, drawn }: PageWork): Promise<MadePages> {
  if (!config.sheets) return { pages: [], stills: new Map() };
  const templates = await loadTemplates(config);
  const plans = planSheets(day, { show: config.show, template: templates.sheet, cardTemplate: templates.card, optics: opticsSettings(config), firstFrame: config.firstFrame });
  for (const { file, page } of cardPages(plans)) await output.write(file, page);
  const ffmpeg = await locate('ffmpeg');
  if (ffmpeg.kind === 'missing') warnings.push('no ffmpeg: the sheets and the board carry no frames (gemel doctor says how to get it)');
  const decoder: FrameSource = ffmpeg.kind === 'found' ? new FfmpegFrameSource(ffmpeg.path) : { stills: async (_clip, wanted) => wanted.map(() => undefined) };
  const places = await catalogue?.places();
  const contentOf = (clip: ClipId): string | undefined => places?.get(clip)?.content;
  const dayStills = new DayStills(day.sets.flatMap(boardStills), catalogue, contentOf);
  const shelf = new DrawnPictures(drawn ?? new Map());
  const locateClip = locateClips(day.clips, await mediaRoots(config.media));
  const undecoded = (clip: string, reason: string): void => void warnings.push(`${clip}: no frames for its sheet: ${reason}`);
  const madeOf = places === undefined ? {} : { madeOf: { printer: `gemel ${gemelVersion()}`, clip: (clip: ClipId) => shelf.nameOf(clip) ?? contentOf(clip) ?? '' } };
  const elsewhere = catalogue === undefined || farm === undefined ? {} : { elsewhere: shelf.onlyOthers(pagesFromFarm(catalogue, farm, { locate: locateClip, wanted: day.sets.flatMap(boardStills), contentOf, signal })) };
  const pages = await deliverSheets(plans, {
    printer: new PdfSheetPrinter(), frames: shelf.before(dayStills.keeping(decoder)), locate: (clip) => shelf.placeOf(clip) ?? locateClip(clip), output, progress, signal, undecoded, ...madeOf, ...elsewhere,
  });
  return { pages, stills: new Map([...(await dayStills.all(decoder, locateClip, STILL_WIDTH_PX, signal)), ...shelf.all()]) };
}
