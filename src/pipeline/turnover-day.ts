import { stat } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { FfmpegFrameSource } from '../adapters/ffmpeg/ffmpeg-frame-source.ts';
import { FfmpegPuller } from '../adapters/ffmpeg/pull-frames.ts';
import { mediaRoots } from '../adapters/filesystem/media-roots.ts';
import { PackageFolder } from '../adapters/filesystem/package-folder.ts';
import { PdfSheetPrinter } from '../adapters/pdf/sheet-printer.ts';
import type { JudgedDay } from '../core/checks/judged.ts';
import type { ClipId } from '../core/material/clip.ts';
import type { ReadDay } from '../core/material/day.ts';
import type { ReadingProblem } from '../core/material/finding.ts';
import { UsageError } from '../core/material/errors.ts';
import type { ShotRow } from '../core/material/shot-list.ts';
import { problemLine } from '../formats/terminal/problem-line.ts';
import type { PullFormat } from '../formats/media/pull-format.ts';
import type { HashFormat } from '../formats/mhl/hash-format.ts';
import type { ShotFile } from '../formats/turnover/shot-file.ts';
import type { FramePuller, FrameSource, Progress } from '../ports.ts';
import { deliverSheets } from '../steps/sheet/deliver-sheets.ts';
import { safeFileNames } from '../formats/sheet/safe-file-names.ts';
import { deliverTurnover } from '../steps/turnover/deliver-turnover.ts';
import type { TurnoverPlan } from '../steps/turnover/plan-turnover.ts';
import { planTurnover } from '../steps/turnover/plan-turnover.ts';
import { burnInFont, gemelVersion } from './assets.ts';
import { findPrevious } from './find-previous.ts';
import type { LoadedConfig } from './load-config.ts';
import { isInside } from './load-config.ts';
import { locateClips } from './locate-clips.ts';
import { quickSum } from './quick-sum.ts';
import { readMedia } from './read-media.ts';
import { judge } from './run-day.ts';
import { sealPackage } from './seal-package.ts';
import { loadTemplates } from './templates.ts';
import { locate } from './tools.ts';

/** What the command line asks of a turnover beside the pipeline file. */
export interface TurnoverRequest {
  /** The package's own folder; undefined: numbered below the pipeline's output folder. */
  readonly out: string | undefined;
  readonly previous: string | undefined;
  readonly onlyVendor: string | undefined;
  readonly pictures: PullFormat | undefined;
  readonly movies: boolean;
  readonly all: boolean;
  readonly includeStopped: boolean;
  readonly dryRun: boolean;
  readonly hashes: readonly HashFormat[];
}

/** What came of it. `folder` is undefined when nothing was to be packaged, and in a dry run. */
export interface TurnoverOutcome {
  readonly plan: TurnoverPlan;
  readonly folder: string | undefined;
  readonly shots: readonly ShotFile[];
  readonly failures: readonly string[];
  readonly seal: { readonly files: number; readonly bytes: number; readonly manifest: string } | undefined;
  readonly warnings: readonly string[];
}

/** Reads and judges the media, plans the turnover, and builds, seals and hands over its package in one step. */
export async function turnoverDay({ config, problems }: LoadedConfig, request: TurnoverRequest, progress: Progress, signal: AbortSignal): Promise<TurnoverOutcome> {
  const warnings: string[] = [];
  const puller = await openPuller(request, signal);
  const parent = request.out === undefined ? join(config.out, 'turnovers') : dirname(resolve(request.out));
  const previous = await findPrevious(parent, config.show, request.previous, warnings);
  const target = request.out === undefined ? join(parent, `turnover_${String((previous?.turnover.revision ?? 0) + 1).padStart(3, '0')}`) : resolve(request.out);
  await assertOutside(target, config.media);
  const read = await readMedia(config, { progress, signal, warnings });
  const day = judge({ ...read, problems: [...read.problems, ...problems] }, config);
  const cuts = (read.cuts ?? []).map(({ file }) => file).toSorted();
  if (config.cuts.length > 0 && (read.cuts ?? []).every(({ events }) => events.length === 0)) {
    throw new UsageError(['the cut holds no event that can be used', ...cutProblems(read, new Set(cuts)).map(problemLine)]);
  }
  warnings.unshift(...cutWarnings(read, day, new Set(cuts)), ...otherProblems(read, new Set(cuts)));
  const { sheet: template } = await loadTemplates(config);
  const plan = planTurnover(day, {
    show: config.show, vendor: config.vendor, onlyVendor: request.onlyVendor, firstNumber: config.firstFrame, pictures: request.pictures, movies: request.movies, all: request.all,
    includeStopped: request.includeStopped, cuts, template, rows: rowsOf(read.shots, day), folderNames: safeFileNames,
  }, previous);
  const nothing = { plan, folder: undefined, shots: [], failures: [], seal: undefined, warnings };
  if (request.dryRun || plan.shots.length === 0) return nothing;
  const work: PackageWork = { plan, day, media: config.media, target, puller, hashes: request.hashes, progress, signal, warnings };
  return buildPackage(work);
}

/** What is wrong with the cut, before anything else that was read: what the table lists as left out is not said again. */
function cutWarnings(read: ReadDay, day: JudgedDay, cuts: ReadonlySet<string>): readonly string[] {
  const listed = new Set(day.cutRest?.untied.filter(({ makesShot }) => makesShot).map(({ from }) => from));
  const unread = new Set((read.cuts ?? []).flatMap((cut) => cut.unread ?? []).map(({ problem }) => problemLine(problem)));
  const problems = cutProblems(read, cuts).map(problemLine).filter((line) => !unread.has(line));
  const ofReading = new Set(cutProblems(read, cuts).map(({ file, place }) => `${file}, ${place}`));
  const others = day.findings.filter(({ severity, evidence: [where = ''] }) => severity !== 'note' && !listed.has(where) && !ofReading.has(where) && [...cuts].some((cut) => where.startsWith(`${cut} `)));
  return [...problems, ...others.map(({ consequence, remedy }) => `${consequence} ${remedy}`)];
}

function cutProblems({ problems }: ReadDay, cuts: ReadonlySet<string>): readonly ReadingProblem[] {
  return problems.filter(({ file, severity }) => severity !== 'note' && cuts.has(file));
}

/** Everything else that could not be read concerns the judging, which has a place of its own. */
function otherProblems({ problems }: ReadDay, cuts: ReadonlySet<string>): readonly string[] {
  const count = problems.filter(({ file, severity }) => severity !== 'note' && !cuts.has(file)).length;
  return count === 0 ? [] : [`${count} ${count === 1 ? 'problem' : 'problems'} of reading besides the cut: gemel run PIPELINE lists ${count === 1 ? 'it' : 'them'}`];
}

/** Rows of the shot list, and those of the cut that the sets hold. */
function rowsOf(rows: readonly ShotRow[], day: JudgedDay): readonly ShotRow[] {
  return [...new Map([...rows, ...day.sets.flatMap(({ shots }) => shots)].map((row) => [row.from, row])).values()];
}

interface PackageWork {
  readonly plan: TurnoverPlan;
  readonly day: JudgedDay;
  readonly media: readonly string[];
  readonly target: string;
  readonly puller: FramePuller | undefined;
  readonly hashes: readonly HashFormat[];
  readonly progress: Progress;
  readonly signal: AbortSignal;
  readonly warnings: string[];
}

async function buildPackage({ plan, day, media, target, puller, hashes, progress, signal, warnings }: PackageWork): Promise<TurnoverOutcome> {
  const build = await PackageFolder.open(target, quickSum());
  try {
    const locateClip = locateClips(day.clips, await mediaRoots(media));
    const signatures = await signaturesOf(plan, locateClip);
    const madeOf = (clip: ClipId): string => signatures.get(clip) ?? '';
    const encoder = new TextEncoder();
    const delivered = await deliverTurnover(plan, { build, puller, locate: locateClip, madeOf, encode: (text) => encoder.encode(text), progress, signal });
    const undecoded = (clip: string, reason: string): void => void warnings.push(`${clip}: no frames for its sheet: ${reason}`);
    await deliverSheets(plan.shots.map(({ file, sheet }) => ({ ...sheet, setId: file.set })), {
      printer: new PdfSheetPrinter(), frames: await stillSource(warnings), locate: locateClip, output: build, progress, signal, undecoded, madeOf: { printer: `gemel ${gemelVersion()}`, clip: madeOf },
    });
    await build.tidy();
    const seal = await sealPackage(build.folder, basename(target), hashes, progress, signal);
    await build.commit();
    return { plan, folder: target, shots: delivered.shots, failures: delivered.failures, seal, warnings };
  } finally {
    await build.release();
  }
}

/** Size and time of change of each clip's file: frames pulled from another file of that name are not taken over. */
async function signaturesOf({ shots }: TurnoverPlan, locateClip: ReturnType<typeof locateClips>): Promise<ReadonlyMap<ClipId, string>> {
  const clips = [...new Set(shots.flatMap(({ file }) => file.passes.map(({ clip }) => clip)))];
  const signed = await Promise.all(clips.map(async (clip) => {
    const path = locateClip(clip);
    if (path === undefined) return [clip, clip] as const;
    // A sequence changes with its folder.
    const facts = await stat(path.clip.kind === 'sequence' ? dirname(path.path) : path.path).catch(() => undefined);
    return [clip, `${clip} ${facts?.size ?? ''} ${facts?.mtimeMs ?? ''}`] as const;
  }));
  return new Map(signed);
}

async function stillSource(warnings: string[]): Promise<FrameSource> {
  const ffmpeg = await locate('ffmpeg');
  if (ffmpeg.kind === 'found') return new FfmpegFrameSource(ffmpeg.path);
  warnings.push('no ffmpeg: the sheets carry no frames (gemel doctor says how to get it)');
  return { stills: async (_clip, wanted) => wanted.map(() => undefined) };
}

/** What pulls frames, when frames or movies are asked for. @throws {UsageError} when it cannot write them, before anything is built. */
async function openPuller({ pictures, movies, dryRun }: TurnoverRequest, signal: AbortSignal): Promise<FramePuller | undefined> {
  if ((pictures === undefined && !movies) || dryRun) return undefined;
  const [ffmpeg, ffprobe] = [await locate('ffmpeg'), await locate('ffprobe')];
  if (ffmpeg.kind === 'missing') throw new UsageError([`frames and movies need ffmpeg: ${ffmpeg.tried.join('; ')}; install ffmpeg 5.1 or newer, or set GEMEL_FFMPEG to one`]);
  const puller = new FfmpegPuller({ ffmpeg: ffmpeg.path, ffprobe: ffprobe.kind === 'found' ? ffprobe.path : undefined, font: burnInFont() });
  const kinds = [...(pictures === undefined ? [] : [pictures]), ...(movies ? ['movie' as const] : [])];
  const faults = await Promise.all(kinds.map(async (kind) => puller.fault(kind, signal)));
  const known = faults.filter((fault) => fault !== undefined);
  if (known.length > 0) throw new UsageError(known);
  return puller;
}

async function assertOutside(target: string, media: readonly string[]): Promise<void> {
  for (const folder of media) {
    if (await isInside(target, folder)) throw new UsageError([`the package ${target} would lie inside the media folder ${folder}; gemel never writes there. Give --out FOLDER somewhere else`]);
  }
}
