import { join } from 'node:path';
import { FfmpegFrameSource } from '../adapters/ffmpeg/ffmpeg-frame-source.ts';
import { mediaRoots } from '../adapters/filesystem/media-roots.ts';
import { ResultFolder } from '../adapters/filesystem/result-folder.ts';
import { PdfSheetPrinter } from '../adapters/pdf/sheet-printer.ts';
import type { Config } from '../config/resolved.ts';
import type { JudgedDay } from '../core/checks/judged.ts';
import type { ReadDay } from '../core/material/day.ts';
import { formatReport, reportOf } from '../formats/report/report.ts';
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
  const pages = config.sheets ? await makeSheets(day, config, output, progress, signal, warnings) : [];
  await output.finish();
  const made = {
    folder: config.out,
    report: join(config.out, 'report.json'),
    sheets: pages.filter((file) => file.startsWith('sheets/')).length,
    repeatCards: pages.filter((file) => file.startsWith('repeat-cards/')).length,
  };
  return { day, report, made, warnings };
}

/** Everything after reading, without touching the world. */
export function judge(read: ReadDay, config: Config): JudgedDay {
  return checkDay(matchDay(groupDay(read, config), config), config);
}

async function makeSheets(day: JudgedDay, config: Config, output: ResultFolder, progress: Progress, signal: AbortSignal, warnings: string[]): Promise<readonly string[]> {
  const templates = await loadTemplates(config);
  const plans = planSheets(day, { show: config.show, template: templates.sheet, cardTemplate: templates.card });
  const ffmpeg = await locate('ffmpeg');
  if (ffmpeg.kind === 'missing') warnings.push('no ffmpeg: the sheets carry no frames (gemel doctor says how to get it)');
  const frames: FrameSource = ffmpeg.kind === 'found' ? new FfmpegFrameSource(ffmpeg.path) : { stills: async (_clip, wanted) => wanted.map(() => undefined) };
  const locateClip = locateClips(day.clips, await mediaRoots(config.media));
  return deliverSheets(plans, { printer: new PdfSheetPrinter(), frames, locate: locateClip, output, progress, signal });
}
