import { basename, join } from 'node:path';
import { ResultFolder } from '../adapters/filesystem/result-folder.ts';
import type { Config } from '../config/resolved.ts';
import { opticsSettings } from '../core/checks/clip-optics.ts';
import type { JudgedDay } from '../core/checks/judged.ts';
import type { LeadPictures } from '../core/checks/lead-pictures.ts';
import type { ReadDay } from '../core/material/day.ts';
import { formatBoard } from '../formats/board/board.ts';
import { withHashProblems } from '../formats/mhl/day-problems.ts';
import { formatReport, reportOf } from '../formats/report/report.ts';
import type { MediaListing, Progress } from '../ports.ts';
import { checkDay } from '../steps/check/check-day.ts';
import { evidenceOf } from '../steps/picture/measure-pictures.ts';
import { assertClips } from './assert-clips.ts';
import { dayPictures } from './day-pictures.ts';
import type { LoadedConfig } from './load-config.ts';
import { serveBeside } from './farm/serve-beside.ts';
import { lockOutput } from './lock-output.ts';
import { makePages } from './make-pages.ts';
import { matchRead } from './match-read.ts';
import { readMedia } from './read-media.ts';
import { tidyDaily } from './tidy-daily.ts';
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
  // A watch waits for cards; a single run that finds none has been pointed at the wrong place.
  if (tools.workshop === undefined) await assertClips(config, signal);
  const output = await ResultFolder.open(config.out);
  await using _lock = tools.workshop === undefined ? await lockOutput(config.out, 'gemel check or run', warnings) : undefined;
  await using own = tools.workshop === undefined ? await openWorkshop(config, tools, warnings) : undefined;
  await using _serving = own === undefined ? undefined : serveBeside(own, signal);
  const { catalogue, farm } = tools.workshop ?? own ?? { catalogue: undefined, farm: undefined };
  const read = await readMedia(config, { progress, signal, warnings, catalogue, farm, settled: tools.settled });
  // A watch would read every card through at each change.
  const cards = config.verifyHashes && tools.settled === undefined ? await verifyCards(config.media, progress, signal, { catalogue, farm }) : undefined;
  if (cards?.histories.length === 0) warnings.push('no card carries an ASC MHL hash list (a folder ascmhl): nothing was verified');
  const whole = withHashProblems({ ...read, problems: [...read.problems, ...problems] }, cards?.problems ?? []);
  const pictures = await dayPictures(whole, config, { progress, signal, warnings, catalogue, farm, watching: tools.settled !== undefined });
  const day = judge(whole, config, pictures?.leads);
  const report = formatReport(reportOf(day));
  await output.write('report.json', report);
  // Whoever watches sees verdicts at once, and the pictures when they are there.
  if (tools.workshop !== undefined) await output.write('board.html', formatBoard(day, { show: boardName(config), stills: new Map(), optics: opticsSettings(config) }));
  const { pages, stills } = await makePages(day, config, { output, progress, signal, warnings, catalogue, farm, drawn: pictures?.shown });
  await output.write('board.html', formatBoard(day, { show: boardName(config), stills, optics: opticsSettings(config) }));
  await output.finish();
  await tidyDaily(catalogue);
  const made = {
    folder: config.out,
    report: join(config.out, 'report.json'),
    board: join(config.out, 'board.html'),
    sheets: pages.filter((file) => file.startsWith('sheets/')).length,
    repeatCards: pages.filter((file) => file.startsWith('repeat-cards/')).length,
  };
  return { day, report, made, warnings, ...(cards === undefined ? {} : { cards }) };
}

/** What a board is called: the show, else the folder it is about. */
function boardName({ show, media }: Config): string {
  return show !== '' && show !== 'untitled' ? show : media.map((folder) => basename(folder)).join(', ');
}

/** Everything after reading and looking, without touching the world. */
export function judge(read: ReadDay, config: Config, pictures: readonly LeadPictures[] = []): JudgedDay {
  return checkDay(matchRead(read, config, evidenceOf(pictures)), config, pictures);
}
