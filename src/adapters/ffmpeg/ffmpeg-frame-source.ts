import type { Raster } from '../../core/material/statement.ts';
import type { FrameSource, ReadClipPath } from '../../ports.ts';
import type { DecodeInput } from './plan-decode.ts';
import { planImageDecode, planMovieDecode } from './plan-decode.ts';
import { runDecode } from './run-decode.ts';
import type { RunLimits } from './run-program.ts';

/** Decoders running side by side: each uses several cores once it runs, but starts on one. */
const PROCESSES = 2;

/**
 * Each input holds a decoder with its frames in memory, some 12 bytes a pixel and thread (H.264 by FFmpeg 5.1, measured). More than this
 * many pixels, six pictures of 3840 × 2160, are decoded in turn.
 */
const PIXELS_AT_ONCE = 50_000_000;
const MOST_INPUTS = 48;
const UNKNOWN_RASTER: Raster = { width: 3840, height: 2160 };

type Stills = Map<number, Uint8Array>;
interface Wanted {
  readonly input: DecodeInput;
  readonly frames: readonly number[];
}

/** What one clip was asked for, until it is answered. */
interface Request {
  readonly wanted: readonly Wanted[];
  readonly raster: Raster | undefined;
  readonly widthPx: number;
  readonly limits: RunLimits;
  readonly resolve: (stills: Stills) => void;
  readonly reject: (problem: unknown) => void;
}

/**
 * Stills as JPEG, by FFmpeg. Colour is passed through as the file codes it: log stays log, linear stays linear. Clips of one raster that are
 * asked for in the same breath share a process, for starting one costs more than most stills; no still depends on what else was asked for.
 */
export class FfmpegFrameSource implements FrameSource {
  readonly #ffmpeg: string;
  readonly #timeoutMs: number;
  #waiting: Request[] = [];
  #running = 0;

  constructor(ffmpegPath: string, timeoutMs = 120_000) {
    this.#ffmpeg = ffmpegPath;
    this.#timeoutMs = timeoutMs;
  }

  /** @throws {Error} when ffmpeg does not start, takes longer than the limit, or the signal fires; bad material gives no stills. */
  async stills(clip: ReadClipPath, frames: readonly number[], widthPx: number, signal: AbortSignal): Promise<readonly (Uint8Array | undefined)[]> {
    const sorted = [...new Set(frames.filter((frame) => Number.isSafeInteger(frame) && frame >= 0))].toSorted((a, b) => a - b);
    const wanted = clip.clip.kind === 'sequence' ? wantedImages(clip, sorted) : wantedRuns(clip, sorted);
    const limits = { timeoutMs: this.#timeoutMs, maxOutputBytes: 256 * 1024 * 1024, signal };
    const stills = await new Promise<Stills>((resolve, reject) => {
      this.#waiting.push({ wanted, raster: clip.raster, widthPx, limits, resolve, reject });
      setImmediate(() => this.#startNext());
    });
    return frames.map((frame) => stills.get(frame));
  }

  #startNext(): void {
    while (this.#running < PROCESSES) {
      const requests = this.#takeTogether();
      if (requests.length === 0) return;
      this.#running += 1;
      void this.#serve(requests).finally(() => {
        this.#running -= 1;
        this.#startNext();
      });
    }
  }

  /** The request that has waited longest, and those that fit into a process with it. */
  #takeTogether(): readonly Request[] {
    const first = this.#waiting.shift();
    if (first === undefined) return [];
    const together = [first];
    const others: Request[] = [];
    let room = inputsAtOnce(first) - first.wanted.length;
    for (const request of this.#waiting) {
      const fits = request.wanted.length <= room && fitTogether(first, request);
      (fits ? together : others).push(request);
      if (fits) room -= request.wanted.length;
    }
    this.#waiting = others;
    return together;
  }

  async #serve(requests: readonly Request[]): Promise<void> {
    const [first] = requests;
    if (first === undefined) return;
    if (requests.length === 1) {
      await this.#decodeAll(first).then(first.resolve, first.reject);
      return;
    }
    const all = requests.flatMap(({ wanted }) => wanted);
    const pictures = await runDecode(this.#ffmpeg, all.map(({ input }) => input), first.widthPx, first.limits).catch(() => []);
    // One bad clip is found out by asking for each alone; the others lose nothing but time.
    if (pictures.length !== countOf(all)) {
      for (const request of requests) await this.#serve([request]);
      return;
    }
    let taken = 0;
    for (const { wanted, resolve } of requests) {
      const count = countOf(wanted);
      resolve(shelve(wanted, pictures.slice(taken, taken + count)));
      taken += count;
    }
  }

  async #decodeAll(request: Request): Promise<Stills> {
    const { wanted } = request;
    const most = inputsAtOnce(request);
    const stills: Stills = new Map();
    for (let first = 0; first < wanted.length; first += most) {
      for (const [frame, still] of await this.#decode(wanted.slice(first, first + most), request)) stills.set(frame, still);
    }
    return stills;
  }

  /** All in one go; when pictures are missing from the answer, one input at a time, so that each still is known for what it is. */
  async #decode(wanted: readonly Wanted[], request: Request): Promise<Stills> {
    const pictures = await runDecode(this.#ffmpeg, wanted.map(({ input }) => input), request.widthPx, request.limits);
    if (pictures.length === countOf(wanted) || wanted.length === 1) return shelve(wanted, pictures);
    const stills: Stills = new Map();
    for (const one of wanted) for (const [frame, still] of await this.#decode([one], request)) stills.set(frame, still);
    return stills;
  }
}

function inputsAtOnce({ raster = UNKNOWN_RASTER }: Request): number {
  return Math.max(1, Math.min(MOST_INPUTS, Math.floor(PIXELS_AT_ONCE / (raster.width * raster.height))));
}

/** Pictures are joined into one run, which takes them of one size only. */
function fitTogether(a: Request, b: Request): boolean {
  return a.raster !== undefined && a.raster.width === b.raster?.width && a.raster.height === b.raster.height && a.widthPx === b.widthPx && a.limits.signal === b.limits.signal;
}

function countOf(wanted: readonly Wanted[]): number {
  return wanted.reduce((sum, { frames }) => sum + frames.length, 0);
}

function shelve(wanted: readonly Wanted[], pictures: readonly Uint8Array[]): Stills {
  const asked = wanted.flatMap(({ frames }) => frames);
  return new Map(pictures.flatMap((picture, index) => {
    const frame = asked[index];
    return frame === undefined ? [] : [[frame, picture] as const];
  }));
}

function wantedRuns({ path, rateText }: ReadClipPath, frames: readonly number[]): readonly Wanted[] {
  let taken = 0;
  return planMovieDecode(path, frames, framesPerSecond(rateText)).map((input) => {
    const run = frames.slice(taken, taken + input.picks.length);
    taken += input.picks.length;
    return { input, frames: run };
  });
}

function wantedImages({ path, clip }: ReadClipPath, frames: readonly number[]): readonly Wanted[] {
  const { sequence } = clip;
  if (sequence === undefined) return [];
  return frames.flatMap((frame) => {
    const number = sequence.first + frame;
    const inHole = sequence.missing.some(({ start, end }) => start <= number && number < end);
    const input = number > sequence.last || inHole ? undefined : planImageDecode(numberedPath(path, number, sequence.padding));
    return input === undefined ? [] : [{ input, frames: [frame] }];
  });
}

function framesPerSecond(rateText: string | undefined): number | undefined {
  const [num, den = 1] = (rateText ?? '').split('/').map(Number);
  const rate = (num ?? 0) / den;
  return Number.isFinite(rate) && rate > 0 ? rate : undefined;
}

/** The path of one image: its number in the place of the last "####". */
function numberedPath(path: string, number: number, padding: number): string {
  if (padding === 0) return path;
  const marks = '#'.repeat(padding);
  const at = path.lastIndexOf(marks);
  const digits = `${number < 0 ? '-' : ''}${String(Math.abs(number)).padStart(padding, '0')}`;
  return at < 0 ? path : path.slice(0, at) + digits + path.slice(at + padding);
}
