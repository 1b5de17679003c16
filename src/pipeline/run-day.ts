import { join } from 'node:path';
import { FfmpegFrameSource } from '../adapters/ffmpeg/ffmpeg-frame-source.ts';
import { mediaRoots } from '../adapters/filesystem/media-roots.ts';
import { ResultFolder } from '../adapters/filesystem/result-folder.ts';
import { PdfSheetPrinter } from '../adapters/pdf/sheet-printer.ts';
import type { Config } from '../config/resolved.ts';
import { opticsSettings } from '../core/checks/clip-optics.ts';
import type { JudgedDay } from '../core/checks/judged.ts';
import type { ClipId } from '../core/material/clip-id.ts';
import type { ReadDay } from '../core/material/day.ts';
import { formatBoard } from '../formats/board/board.ts';
import { boardStills } from '../formats/board/board-set.ts';
import { withHashProblems } from '../formats/mhl/day-problems.ts';
import { formatReport, reportOf } from '../formats/report/report.ts';
import type { Catalogue, FrameSource, MediaListing, Progress } from '../ports.ts';
import { checkDay } from '../steps/check/check-day.ts';
import { tieDay } from '../steps/cut/tie-day.ts';
import { groupDay } from '../steps/group/group-day.ts';
import { matchDay } from '../steps/match/match-day.ts';
import { cardPages } from '../steps/sheet/card-pages.ts';
import { STILL_WIDTH_PX, deliverSheets } from '../steps/sheet/deliver-sheets.ts';
import { planSheets } from '../steps/sheet/plan-sheets.ts';
import { gemelVersion } from './assets.ts';
import { DayStills } from './day-stills.ts';
import { locateClips } from './locate-clips.ts';
import type { LoadedConfig } from './load-config.ts';
import { readMedia } from './read-media.ts';
import { loadTemplates } from './templates.ts';
import { lockOutput } from './lock-output.ts';
import { locate } from './tools.ts';
import type { VerifiedCards } from './verify-hashes.ts';
import { verifyCards } from './verify-hashes.ts';
import type { Workshop, WorkshopOptions } from './workshop.ts';
import { openWorkshop } from './workshop.ts';

/** What a day came to: the judged day, its report as text, what was written where, and what could not be done. */
export interface DayOutcome {
  readonly day: JudgedDay;
  readonly report: string;
  readonly made: MadeFiles;
  readonly warnings: readonly string[];
  /** What cards said of themselves by their hash lists; only when asked for. */
  readonly cards?: VerifiedCards;
}

export interface MadeFiles {
  readonly folder: string;
  readonly report: string;
  readonly board: string;
  readonly sheets: number;
  readonly repeatCards: number;
}

/** What a day is worked on with; what is not given is opened for this day alone. */
export interface DayTools extends WorkshopOptions {
  readonly workshop?: Workshop;
  /** Stands before the media folders: a watch shows only what has settled. */
  readonly settled?: (listing: MediaListing) => MediaListing;
}

/** The main job: reads the media folders, groups, matches, checks, and writes the report, the sheets and the repeat cards. */
export async function runDay({ config, problems }: LoadedConfig, progress: Progress, signal: AbortSignal, tools: DayTools = {}): Promise<DayOutcome> {
  const warnings: string[] = [];
  const output = await ResultFolder.open(config.out);
  await using _lock = tools.workshop === undefined ? await lockOutput(config.out, 'gemel check or run', warnings) : undefined;
  await using own = tools.workshop === undefined ? await openWorkshop(config, tools, warnings) : undefined;
  const { catalogue } = tools.workshop ?? own ?? { catalogue: undefined };
  const read = await readMedia(config, { progress, signal, warnings, catalogue, settled: tools.settled });
  // A watch would read every card through at each change.
  const cards = config.verifyHashes && tools.settled === undefined ? await verifyCards(config.media, progress, signal) : undefined;
  if (cards?.histories.length === 0) warnings.push('no card carries an ASC MHL hash list (a folder ascmhl): nothing was verified');
  const day = judge(withHashProblems({ ...read, problems: [...read.problems, ...problems] }, cards?.problems ?? []), config);
  const report = formatReport(reportOf(day));
  await output.write('report.json', report);
  // Whoever watches sees verdicts at once, and the pictures when they are there.
  if (tools.workshop !== undefined) await output.write('board.html', formatBoard(day, { show: config.show, stills: new Map() }));
  const { pages, stills } = await makePages(day, config, { output, progress, signal, warnings, catalogue });
  await output.write('board.html', formatBoard(day, { show: config.show, stills, optics: opticsSettings(config) }));
  await output.finish();
  const made = {
    folder: config.out,
    report: join(config.out, 'report.json'),
    board: join(config.out, 'board.html'),
    sheets: pages.filter((file) => file.startsWith('sheets/')).length,
    repeatCards: pages.filter((file) => file.startsWith('repeat-cards/')).length,
  };
  return { day, report, made, warnings, ...(cards === undefined ? {} : { cards }) };
}

/** Everything after reading, without touching the world. */
export function judge(read: ReadDay, config: Config): JudgedDay {
  const { grouped, evidence } = tieDay(groupDay(read, config), read.cuts ?? [], config);
  return checkDay(matchDay(grouped, config, evidence), config);
}

interface PageWork {
  readonly output: ResultFolder;
  readonly progress: Progress;
  readonly signal: AbortSignal;
  readonly warnings: string[];
  readonly catalogue: Catalogue | undefined;
}

interface MadePages {
  readonly pages: readonly string[];
  readonly stills: ReadonlyMap<string, Uint8Array>;
}

async function makePages(day: JudgedDay, config: Config, { output, progress, signal, warnings, catalogue }: PageWork): Promise<MadePages> {
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
  const locateClip = locateClips(day.clips, await mediaRoots(config.media));
  const undecoded = (clip: string, reason: string): void => void warnings.push(`${clip}: no frames for its sheet: ${reason}`);
  const madeOf = places === undefined ? {} : { madeOf: { printer: `gemel ${gemelVersion()}`, clip: (clip: ClipId) => contentOf(clip) ?? '' } };
  const pages = await deliverSheets(plans, {
    printer: new PdfSheetPrinter(), frames: dayStills.keeping(decoder), locate: locateClip, output, progress, signal, undecoded, ...madeOf,
  });
  return { pages, stills: await dayStills.all(decoder, locateClip, STILL_WIDTH_PX, signal) };
}
