import { copyFile, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FrameRange } from '../../core/timecode/range.ts';
import type { PullFormat } from '../../formats/media/picture-length.ts';
import type { BurnIn, FramePuller, ReadClipPath } from '../../ports.ts';
import { burnInFilters, FONT_FILE, TEXT_FILE } from './burn-in.ts';
import type { PictureCoding } from './inspect-picture.ts';
import { inspectPicture, UNKNOWN_CODING } from './inspect-picture.ts';
import { lastWords, mediaUrl } from './media-url.ts';
import { colourWords, encoderFor, framesPerSecond, inputOf, pictureOutput, pullFilters } from './plan-pull.ts';
import { runProgram } from './run-program.ts';
import { streamPictures } from './stream-pictures.ts';

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

  async pull(clip: ReadClipPath, range: FrameRange, format: PullFormat, take: (frame: number, picture: Uint8Array) => Promise<void>, signal: AbortSignal): Promise<void> {
    const coding = await this.#coding(clip, signal);
    const { args, skip } = inputOf(clip, range, coding);
    const wanted = range.end - range.start;
    const all = ['-v', 'error', '-nostdin', ...args, '-map', '0:v:0', '-vf', pullFilters(range, skip, format, coding), '-frames:v', String(wanted), ...pictureOutput(format)];
    const { pictures, said, code } = await streamPictures(this.#programs.ffmpeg, all, format, async (index, picture) => take(range.start + index, picture), signal);
    if (code === 0 && pictures === wanted) return;
    throw new Error(`${clip.clip.file}: ${pictures} of ${wanted} frames from frame ${range.start} on could be decoded; ffmpeg said: ${lastWords(said, clip.path)}`);
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
      if (/No space left on device/.test(run.stderr)) throw Object.assign(new Error('the disk is full while a reference movie is written'), { code: 'ENOSPC' });
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

async function listEncoders(ffmpeg: string, signal: AbortSignal): Promise<ReadonlySet<string>> {
  const { stdout } = await runProgram(ffmpeg, ['-v', 'error', '-hide_banner', '-encoders'], { timeoutMs: 60_000, maxOutputBytes: 1024 * 1024, signal });
  return new Set(new TextDecoder().decode(stdout).split('\n').map((line) => line.trim().split(/\s+/)[1] ?? ''));
}
