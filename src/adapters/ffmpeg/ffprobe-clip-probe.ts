import type { ClipProbe } from '../../ports.ts';
import { lastWords, mediaUrl, MOVIE_INPUT } from './media-url.ts';
import { runProgram } from './run-program.ts';

/** Asks ffprobe about one movie. Slow beside gemel's own header readers (a process each), so it is asked last. */
export class FfprobeClipProbe implements ClipProbe {
  readonly #ffprobe: string;
  readonly #timeoutMs: number;

  constructor(ffprobePath: string, timeoutMs = 20_000) {
    this.#ffprobe = ffprobePath;
    this.#timeoutMs = timeoutMs;
  }

  /** @throws {Error} whose message says what ffprobe said, when it cannot read the file or takes longer than the limit. */
  async probe(path: string, signal: AbortSignal): Promise<unknown> {
    const args = ['-v', 'error', '-hide_banner', ...MOVIE_INPUT, '-print_format', 'json', '-show_format', '-show_streams', '-i', mediaUrl(path)];
    const run = await runProgram(this.#ffprobe, args, { timeoutMs: this.#timeoutMs, maxOutputBytes: 4 * 1024 * 1024, signal });
    if (run.timedOut) throw new Error(`ffprobe took longer than ${this.#timeoutMs / 1000} s`);
    if (run.code !== 0) throw new Error(`ffprobe said: ${lastWords(run.stderr, path)}`);
    const answer: unknown = JSON.parse(new TextDecoder().decode(run.stdout));
    return answer;
  }
}
