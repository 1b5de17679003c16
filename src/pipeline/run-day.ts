import { join } from 'node:path';
import { FfmpegFrameSource } from '../adapters/ffmpeg/ffmpeg-frame-source.ts';
import { mediaRoots } from '../adapters/filesystem/media-roots.ts';
import { ResultFolder } from '../adapters/filesystem/result-folder.ts';
import { PdfSheetPrinter } from '../adapters/pdf/sheet-printer.ts';
import type { Config } from '../config/resolved.ts';
import type { JudgedDay } from '../core/checks/judged.ts';
import type { ReadDay } from '../core/material/day.ts';
import { formatBoard } from '../formats/board/board.ts';
import { boardStills } from '../formats/board/board-set.ts';
import { formatReport, reportOf } from '../formats/report/report.ts';
import { stillKey } from '../formats/sheet/content.ts';
import type { FrameSource, Progress } from '../ports.ts';
import { checkDay } from '../steps/check/check-day.ts';
import { groupDay } from '../steps/group/group-day.ts';
import { matchDay } from '../steps/match/match-day.ts';
import { deliverSheets } from '../steps/sheet/deliver-sheets.ts';
import { planSheets } from '../steps/sheet/plan-sheets.ts';
import { locateClips } from './locate-clips.ts';
import type { LoadedConfig } from './load-config.ts';
import { readMedia } from './read-media.ts';
import { loadTemplates } from './templates.ts';
import { locate } from './tools.ts';

/** What a day came to: the judged day, its report as text, what was written where, and what could not be done. */
export interface DayOutcome {
  readonly day: JudgedDay;
  readonly report: string;
  readonly made: MadeFiles;
  readonly warnings: readonly string[];
}

export interface MadeFiles {
  readonly folder: string;
  readonly report: string;
  readonly board: string;
  readonly sheets: number;
  readonly repeatCards: number;
}

/** The main job: reads the media folders, groups, matches, checks, and writes the report, the sheets and the repeat cards. */
export async function runDay({ config, problems }: LoadedConfig, progress: Progress, signal: AbortSignal): Promise<DayOutcome> {
  const warnings: string[] = [];
  const output = await ResultFolder.open(config.out);
  const read = await readMedia(config, progress, signal, warnings);
  const day = judge({ ...read, problems: [...read.problems, ...problems] }, config);
  const report = formatReport(reportOf(day));
  await output.write('report.json', report);
  const stills = new Map<string, Uint8Array>();
  const pages = config.sheets ? await makeSheets(day, config, { output, progress, signal, warnings, stills }) : [];
  await output.write('board.html', formatBoard(day, { show: config.show, stills }));
  await output.finish();
  const made = {
    folder: config.out,
    report: join(config.out, 'report.json'),
    board: join(config.out, 'board.html'),
    sheets: pages.filter((file) => file.startsWith('sheets/')).length,
    repeatCards: pages.filter((file) => file.startsWith('repeat-cards/')).length,
  };
  return { day, report, made, warnings };
}

/** Everything after reading, without touching the world. */
export function judge(read: ReadDay, config: Config): JudgedDay {
  return checkDay(matchDay(groupDay(read, config), config), config);
}

interface SheetWork {
  readonly output: ResultFolder;
  readonly progress: Progress;
  readonly signal: AbortSignal;
  readonly warnings: string[];
  /** Filled with the stills the board shows as well, so that no clip is decoded for it again. */
  readonly stills: Map<string, Uint8Array>;
}

async function makeSheets(day: JudgedDay, config: Config, { output, progress, signal, warnings, stills }: SheetWork): Promise<readonly string[]> {
  const templates = await loadTemplates(config);
  const plans = planSheets(day, { show: config.show, template: templates.sheet, cardTemplate: templates.card });
  const ffmpeg = await locate('ffmpeg');
  if (ffmpeg.kind === 'missing') warnings.push('no ffmpeg: the sheets and the board carry no frames (gemel doctor says how to get it)');
  const decoder: FrameSource = ffmpeg.kind === 'found' ? new FfmpegFrameSource(ffmpeg.path) : { stills: async (_clip, wanted) => wanted.map(() => undefined) };
  const frames = keepingStills(decoder, new Set(day.sets.flatMap(boardStills).map(stillKey)), stills);
  const locateClip = locateClips(day.clips, await mediaRoots(config.media));
  const undecoded = (clip: string, reason: string): void => void warnings.push(`${clip}: no frames for its sheet: ${reason}`);
  return deliverSheets(plans, { printer: new PdfSheetPrinter(), frames, locate: locateClip, output, progress, signal, undecoded });
}

/** A frame source that also keeps the wanted stills that pass through it. */
function keepingStills(source: FrameSource, wanted: ReadonlySet<string>, kept: Map<string, Uint8Array>): FrameSource {
  return {
    stills: async (path, frames, widthPx, signal) => {
      const decoded = await source.stills(path, frames, widthPx, signal);
      frames.forEach((frame, index) => {
        const key = stillKey({ clip: path.clip.file, frame });
        const still = decoded[index];
        if (still !== undefined && wanted.has(key)) kept.set(key, still);
      });
      return decoded;
    },
  };
}
