import { copyFile, mkdtemp, rename, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import type { FrameRange } from '../../core/timecode/range.ts';
import type { PullFormat } from '../../formats/media/pull-format.ts';
import type { BurnIn, FramePuller, NumberedFiles, ReadClipPath } from '../../ports.ts';
import { burnInFilters, FONT_FILE, TEXT_FILE } from './burn-in.ts';
import type { PictureCoding } from './inspect-picture.ts';
import { inspectPicture, UNKNOWN_CODING } from './inspect-picture.ts';
import { lastWords, mediaUrl } from './media-url.ts';
import { colourWords, encoderFor, exrStream, framesPerSecond, inputOf, pictureFiles, pullFilters } from './plan-pull.ts';
import { runProgram } from './run-program.ts';
import { streamExr } from './stream-exr.ts';
import { writePictures } from './write-pictures.ts';

/** The programs and the font pulling needs. Without ffprobe every range is decoded from the start of its movie. */
export interface PullPrograms {
  readonly ffmpeg: string;
  readonly ffprobe: string | undefined;
  /** A TrueType font for burn-in. */
  readonly font: string;
}

const MOVIE_TIMEOUT_MS = 3_600_000;
const MOVIE_ENCODERS = ['libx264', 'mpeg4'] as const;

/** Pulls frames and makes reference movies by FFmpeg, one process a range. */
export class FfmpegPuller implements FramePuller {
  readonly #programs: PullPrograms;
  readonly #codings = new Map<string, Promise<PictureCoding>>();
  #encoders: Promise<ReadonlySet<string>> | undefined;

  constructor(programs: PullPrograms) {
    this.#programs = programs;
  }

  async fault(kind: PullFormat | 'movie', signal: AbortSignal): Promise<string | undefined> {
    const encoders = await this.#knownEncoders(signal);
    const wanted = kind === 'movie' ? MOVIE_ENCODERS : [encoderFor(kind)];
    if (wanted.some((name) => encoders.has(name))) return undefined;
    const what = kind === 'movie' ? 'reference movies' : `${kind.toUpperCase()} frames`;
    const instead = kind === 'exr' && encoders.has('dpx') ? ', or ask for --frames dpx' : '';
    return `the ffmpeg at ${this.#programs.ffmpeg} cannot write ${what} (it has no encoder ${wanted.join(' or ')}); install ffmpeg 5.1 or newer, or set GEMEL_FFMPEG to one${instead}`;
  }

  async colourOf(clip: ReadClipPath, signal: AbortSignal): Promise<string> {
    return colourWords(await this.#coding(clip, signal));
  }

  async pullExr(clip: ReadClipPath, range: FrameRange, take: (frame: number, picture: Uint8Array) => Promise<void>, signal: AbortSignal): Promise<void> {
    const args = await this.#pullArgs(clip, range, 'exr', exrStream(), signal);
    assertAll(clip, range, await streamExr(this.#programs.ffmpeg, args, async (index, picture) => take(range.start + index, picture), signal));
  }

  async pullFiles(clip: ReadClipPath, range: FrameRange, format: PullFormat, files: NumberedFiles, done: (frame: number) => Promise<void>, signal: AbortSignal): Promise<void> {
    const { before } = files;
    // A folder of this attempt's own: the ffmpeg of a run that was killed may go on for a moment, and must not write under our names.
    const folder = await mkdtemp(join(dirname(before), '.pulling-'));
    try {
      const attempt = { ...files, before: join(folder, basename(before)) };
      const args = await this.#pullArgs(clip, range, format, pictureFiles(format, attempt), signal);
      const [written, wanted] = [pathsOf(attempt, range), pathsOf(files, range)];
      const settle = async (index: number): Promise<void> => {
        await rename(written[index] ?? '', wanted[index] ?? '');
        await done(range.start + index);
      };
      assertAll(clip, range, await writePictures(this.#programs.ffmpeg, args, written, settle, signal));
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  }

  async #pullArgs(clip: ReadClipPath, range: FrameRange, format: PullFormat, output: readonly string[], signal: AbortSignal): Promise<readonly string[]> {
    const coding = await this.#coding(clip, signal);
    const { args, skip } = inputOf(clip, range, coding);
    return ['-v', 'error', '-nostdin', '-y', ...args, '-map', '0:v:0', '-vf', pullFilters(range, skip, format, coding), '-frames:v', String(range.end - range.start), ...output];
  }

  async movie(clip: ReadClipPath, range: FrameRange, burnIn: BurnIn, target: string, signal: AbortSignal): Promise<void> {
    const coding = await this.#coding(clip, signal);
    const { args, skip } = inputOf(clip, range, coding);
    const rate = clip.rateText ?? '24/1';
    const kept = `trim=start_frame=${skip}:end_frame=${skip + range.end - range.start},setpts=N/(${framesPerSecond(rate) === undefined ? '24/1' : rate})/TB`;
    // Names in a filter need quoting of their own; plain names in a folder of their own need none.
    const folder = await mkdtemp(join(tmpdir(), 'gemel-burn-in-'));
    try {
      await copyFile(this.#programs.font, join(folder, FONT_FILE));
      await writeFile(join(folder, TEXT_FILE), burnIn.lines.join('\n'));
      const timecode = burnIn.timecode === undefined ? [] : ['-timecode', burnIn.timecode];
      const all = [
        '-v', 'error', '-nostdin', '-y', ...args, '-map', '0:v:0', '-vf', `${kept},${burnInFilters(burnIn, rate)}`, '-frames:v', String(range.end - range.start), '-r', rate,
        ...(await this.#movieCodec(signal)), ...timecode, '-map_metadata', '-1', '-fflags', '+bitexact', '-flags:v', '+bitexact', '-movflags', '+faststart', '-f', 'mov', mediaUrl(target),
      ];
      const run = await runProgram(this.#programs.ffmpeg, all, { timeoutMs: MOVIE_TIMEOUT_MS, maxOutputBytes: 1024 * 1024, signal, folder });
      assertRoom(run.stderr);
      if (run.code !== 0) throw new Error(`${clip.clip.file}: no reference movie could be made; ffmpeg said: ${lastWords(run.stderr, clip.path)}`);
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  }

  async #movieCodec(signal: AbortSignal): Promise<readonly string[]> {
    const encoders = await this.#knownEncoders(signal);
    return encoders.has('libx264') ? ['-c:v', 'libx264', '-preset', 'veryfast', '-crf', '20', '-pix_fmt', 'yuv420p'] : ['-c:v', 'mpeg4', '-q:v', '3', '-pix_fmt', 'yuv420p'];
  }

  async #coding(clip: ReadClipPath, signal: AbortSignal): Promise<PictureCoding> {
    const { ffprobe } = this.#programs;
    if (ffprobe === undefined || clip.clip.kind === 'sequence') return UNKNOWN_CODING;
    const known = this.#codings.get(clip.path) ?? inspectPicture(ffprobe, clip.path, signal);
    this.#codings.set(clip.path, known);
    return known;
  }

  async #knownEncoders(signal: AbortSignal): Promise<ReadonlySet<string>> {
    this.#encoders ??= listEncoders(this.#programs.ffmpeg, signal);
    return this.#encoders;
  }
}

function pathsOf({ before, after, padding, firstNumber }: NumberedFiles, { start, end }: FrameRange): readonly string[] {
  return Array.from({ length: end - start }, (_, index) => `${before}${String(firstNumber + index).padStart(padding, '0')}${after}`);
}

function assertAll({ clip, path }: ReadClipPath, { start, end }: FrameRange, { pictures, said, code }: { readonly pictures: number; readonly said: string; readonly code: number | null }): void {
  assertRoom(said);
  if (code === 0 && pictures === end - start) return;
  throw new Error(`${clip.file}: ${pictures} of ${end - start} frames from frame ${start} on could be decoded; ffmpeg said: ${lastWords(said, path)}`);
}

/** A full disk says nothing of the clip. */
function assertRoom(said: string): void {
  if (/No space left on device|Disk quota exceeded/.test(said)) throw Object.assign(new Error('the disk is full; make room or give --out on another disk, then run the same command again: what is already right is taken over'), { code: 'ENOSPC' });
}

async function listEncoders(ffmpeg: string, signal: AbortSignal): Promise<ReadonlySet<string>> {
  const { stdout } = await runProgram(ffmpeg, ['-v', 'error', '-hide_banner', '-encoders'], { timeoutMs: 60_000, maxOutputBytes: 1024 * 1024, signal });
  return new Set(new TextDecoder().decode(stdout).split('\n').map((line) => line.trim().split(/\s+/)[1] ?? ''));
}
