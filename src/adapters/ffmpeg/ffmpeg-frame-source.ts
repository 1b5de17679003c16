import type { FrameSource, ReadClipPath } from '../../ports.ts';
import type { DecodeInput } from './plan-decode.ts';
import { planImageDecode, planMovieDecode } from './plan-decode.ts';
import { runDecode } from './run-decode.ts';
import type { RunLimits } from './run-program.ts';

/** Each input holds a decoder with its frames in memory; more than these are decoded in turn. */
const INPUTS_AT_ONCE = 8;

type Stills = Map<number, Uint8Array>;
interface Wanted {
  readonly input: DecodeInput;
  readonly frames: readonly number[];
}

/** Stills as JPEG, by FFmpeg. Colour is passed through as the file codes it: log stays log, linear stays linear. */
export class FfmpegFrameSource implements FrameSource {
  readonly #ffmpeg: string;
  readonly #timeoutMs: number;

  constructor(ffmpegPath: string, timeoutMs = 120_000) {
    this.#ffmpeg = ffmpegPath;
    this.#timeoutMs = timeoutMs;
  }

  /** @throws {Error} when ffmpeg does not start, takes longer than the limit, or the signal fires; bad material gives no stills. */
  async stills(clip: ReadClipPath, frames: readonly number[], widthPx: number, signal: AbortSignal): Promise<readonly (Uint8Array | undefined)[]> {
    const sorted = [...new Set(frames.filter((frame) => Number.isSafeInteger(frame) && frame >= 0))].toSorted((a, b) => a - b);
    const wanted = clip.clip.kind === 'sequence' ? wantedImages(clip, sorted) : wantedRuns(clip, sorted);
    const stills: Stills = new Map();
    const limits = { timeoutMs: this.#timeoutMs, maxOutputBytes: 256 * 1024 * 1024, signal };
    for (let first = 0; first < wanted.length; first += INPUTS_AT_ONCE) {
      await this.#decode(wanted.slice(first, first + INPUTS_AT_ONCE), widthPx, limits, stills);
    }
    return frames.map((frame) => stills.get(frame));
  }

  /** All in one go; when pictures are missing from the answer, one input at a time, so that each still is known for what it is. */
  async #decode(wanted: readonly Wanted[], widthPx: number, limits: RunLimits, stills: Stills): Promise<void> {
    const asked = wanted.flatMap(({ frames }) => frames);
    const inputs = wanted.map(({ input }) => input);
    const pictures = await runDecode(this.#ffmpeg, inputs, widthPx, limits);
    if (pictures.length === asked.length || wanted.length === 1) {
      pictures.forEach((picture, index) => {
        const frame = asked[index];
        if (frame !== undefined) stills.set(frame, picture);
      });
      return;
    }
    for (const one of wanted) await this.#decode([one], widthPx, limits, stills);
  }
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
