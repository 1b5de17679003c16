import type { ClipId } from '../../core/material/clip.ts';
import { UsageError } from '../../core/material/errors.ts';
import type { FrameRange } from '../../core/timecode/range.ts';
import { rateFromText } from '../../core/timecode/rate.ts';
import { stampDpx } from '../../formats/media/stamp-dpx.ts';
import type { PictureStamp } from '../../formats/media/stamp-dpx.ts';
import { stampExr } from '../../formats/media/stamp-exr.ts';
import { headerLabelOf, pictureFile } from '../../formats/turnover/header-label-of.ts';
import type { PassPictures, ShotFile, ShotPass } from '../../formats/turnover/shot-file.ts';
import type { BurnIn, FramePuller, NumberedFiles, PackageBuild, Progress, ReadClipPath } from '../../ports.ts';
import type { PlannedShot } from './plan-turnover.ts';

export interface PullPorts {
  readonly build: PackageBuild;
  /** Undefined when neither frames nor movies were asked for. */
  readonly puller: FramePuller | undefined;
  /** Where a clip's bytes lie, and what they are known by: size and time of change. */
  readonly locate: (clip: ClipId) => ReadClipPath | undefined;
  readonly madeOf: (clip: ClipId) => string;
  /** Text as UTF-8. */
  readonly encode: (text: string) => Uint8Array;
  readonly progress: Progress;
  readonly signal: AbortSignal;
}

/** A shot after pulling: what is not there is said in its file. */
export interface PulledShot {
  readonly file: ShotFile;
  readonly failures: readonly string[];
}

/** Pulls the frames and makes the movies of every shot. A clip that cannot be decoded is said in its shot; a full disk ends the work. */
export async function deliverFrames(shots: readonly PlannedShot[], ports: PullPorts): Promise<readonly PulledShot[]> {
  const total = shots.flatMap(({ file }) => file.passes).reduce((sum, pass) => sum + (pass.pictures?.count ?? 0) + (pass.movie?.frames ?? 0), 0);
  ports.progress.start('frames', total, 0);
  const pulled: PulledShot[] = [];
  for (const { file } of shots) pulled.push(await pullShot(file, ports));
  ports.progress.done();
  return pulled;
}

async function pullShot(file: ShotFile, ports: PullPorts): Promise<PulledShot> {
  const passes: ShotPass[] = [];
  const failures: string[] = [];
  for (const pass of file.passes) {
    ports.signal.throwIfAborted();
    const note = (problem: unknown): string => {
      ports.signal.throwIfAborted();
      // A disk that is full stays full for the next clip; a clip that cannot be decoded says nothing of the others.
      if (!(problem instanceof Error) || problem instanceof UsageError || 'code' in problem) throw problem;
      failures.push(`${file.shot}, ${pass.role}: ${problem.message}`);
      return problem.message;
    };
    const pictures = await pullPictures(file, pass, ports).catch((problem: unknown) => ({ failed: note(problem) }));
    const movie = await makeMovie(file, pass, ports).catch((problem: unknown) => ({ failed: note(problem) }));
    const failed = [pictures, movie].flatMap((made) => (made !== null && 'failed' in made ? [made.failed] : []));
    passes.push({
      ...pass,
      pictures: pictures === null || 'failed' in pictures ? null : pictures,
      movie: movie === null || 'failed' in movie ? null : movie,
      notDelivered: failed.length === 0 ? pass.notDelivered : [...new Set(failed)].join('; '),
    });
  }
  return { file: { ...file, passes }, failures };
}

async function pullPictures(shot: ShotFile, pass: ShotPass, ports: PullPorts): Promise<PassPictures | null> {
  const { build, puller, progress, signal } = ports;
  const { pictures, source, numbers } = pass;
  const path = ports.locate(pass.clip);
  if (pictures === null || source === null || numbers === null || puller === undefined || path === undefined) return null;
  const recipe = JSON.stringify(['frames 2', ports.madeOf(pass.clip), source, pictures, shot.slate, pass.slate]);
  const frameOf = (number: number): number => source.first + number - numbers.first;
  for (const run of await missingRuns(pictures, recipe, ports)) {
    const range: FrameRange = { start: frameOf(run.start), end: frameOf(run.end) };
    const numberOf = (frame: number): number => run.start + frame - range.start;
    if (pictures.format === 'exr') {
      await puller.pullExr(path, range, async (frame, picture) => {
        await build.writeParts(pictureFile(pictures, numberOf(frame)), stampExr(picture, stampOf(pass, pictures, numberOf(frame))), recipe);
        progress.advance(1, 0);
      }, signal);
    } else {
      await puller.pullFiles(path, range, pictures.format, await filesOf(pictures, run.start, build), async (frame) => {
        const start = pictures.format === 'dpx' ? (bytes: Uint8Array) => stampDpx(bytes, stampOf(pass, pictures, numberOf(frame))) : undefined;
        await build.kept(pictureFile(pictures, numberOf(frame)), recipe, start);
        progress.advance(1, 0);
      }, signal);
    }
  }
  return { ...pictures, colour: await puller.colourOf(path, signal) };
}

/** Runs of numbers, ends exclusive, whose files an earlier run did not leave whole. */
async function missingRuns(pictures: PassPictures, recipe: string, { build, progress, signal }: PullPorts): Promise<readonly FrameRange[]> {
  const runs: { start: number; end: number }[] = [];
  for (const { first, last } of pictures.numbers) {
    for (let number = first; number <= last; number++) {
      signal.throwIfAborted();
      const run = runs.at(-1);
      if (await build.holds(pictureFile(pictures, number), recipe)) progress.advance(1, 0);
      else if (run?.end === number && number > first) run.end = number + 1;
      else runs.push({ start: number, end: number + 1 });
    }
  }
  return runs;
}

/** Where another program writes the files of a pass, from a number on. */
async function filesOf(pictures: PassPictures, firstNumber: number, build: PackageBuild): Promise<NumberedFiles> {
  const path = await build.pathFor(pictureFile(pictures, firstNumber));
  const at = path.length - (pictures.files.length - pictures.files.lastIndexOf('#'.repeat(pictures.padding)));
  return { before: path.slice(0, at), after: path.slice(at + pictures.padding), padding: pictures.padding, firstNumber };
}

function stampOf(pass: ShotPass, pictures: PassPictures, number: number): PictureStamp {
  const file = pictureFile(pictures, number);
  return {
    timecode: headerLabelOf(pictures, number),
    rate: pictures.rate === null ? undefined : rateFromText(pictures.rate),
    fileName: file.slice(file.lastIndexOf('/') + 1),
    source: pass.clip.slice(pass.clip.lastIndexOf('/') + 1),
    slate: pass.slate ?? '',
  };
}

async function makeMovie(shot: ShotFile, pass: ShotPass, { build, puller, locate, madeOf, progress, signal }: PullPorts): Promise<ShotPass['movie']> {
  const { movie, source, numbers } = pass;
  const path = locate(pass.clip);
  if (movie === null || source === null || numbers === null || puller === undefined || path === undefined) return null;
  const burnIn: BurnIn = {
    lines: [`${shot.shot}  revision ${shot.revision}`, `${pass.role} pass  ${pass.clip.slice(pass.clip.lastIndexOf('/') + 1)}`],
    firstNumber: numbers.first,
    timecode: source.timecodeFirst !== null && countsFrames(pass) ? source.timecodeFirst : undefined,
  };
  const recipe = JSON.stringify(['movie 1', madeOf(pass.clip), source, burnIn]);
  if (!(await build.holds(movie.file, recipe))) {
    await puller.movie(path, { start: source.first, end: source.last + 1 }, burnIn, await build.pathFor(movie.file), signal);
    await build.kept(movie.file, recipe);
  }
  progress.advance(movie.frames, 0);
  return movie;
}

/** Whether each frame has a label of its own, so that counting frames counts labels. */
function countsFrames({ source, rate }: ShotPass): boolean {
  if (source === null || source.timecodeFirst === null || source.timecodeLast === null || rate === null) return false;
  return source.first === source.last || source.timecodeFirst !== source.timecodeLast;
}
