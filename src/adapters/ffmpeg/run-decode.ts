import { availableParallelism } from 'node:os';
import { ANY_INPUT, lastWords, mediaUrl, MOVIE_INPUT } from './media-url.ts';
import type { DecodeInput } from './plan-decode.ts';
import { decodeGraph } from './plan-decode.ts';
import type { RunLimits } from './run-program.ts';
import { runProgram } from './run-program.ts';
import { splitJpegs } from './split-jpegs.ts';

/** Threads an input: more of them cost memory in every input, and starting them more than most stills take on a small machine. */
const THREADS = Math.max(1, Math.min(4, Math.floor(availableParallelism() / 2)));

/**
 * The pictures of one decode, as JPEG, in the order of the picks: fewer when some could not be decoded. Nothing touches a disk.
 * @throws {Error} when FFmpeg does not start, takes longer than the limit, or the signal fires.
 */
export async function runDecode(ffmpegPath: string, inputs: readonly DecodeInput[], widthPx: number, limits: RunLimits): Promise<readonly Uint8Array[]> {
  const graph = decodeGraph(inputs, widthPx);
  const sink = ['-map', '[out]', '-r', '24', '-c:v', 'mjpeg', '-q:v', '3', '-flags:v', '+bitexact', '-threads', '1', '-f', 'image2pipe', 'pipe:1'];
  const args = ['-v', 'error', '-nostdin', ...inputs.flatMap(inputArgs), '-filter_complex', graph, ...sink];
  const run = await runProgram(ffmpegPath, args, limits);
  if (run.timedOut) throw new Error(`ffmpeg took longer than ${limits.timeoutMs / 1000} s; ${lastWords(run.stderr, inputs[0]?.path ?? '')}`);
  return splitJpegs(run.stdout);
}

function inputArgs({ path, format, seekS }: DecodeInput): readonly string[] {
  const options = format === 'movie' ? MOVIE_INPUT : [...ANY_INPUT, '-f', format];
  return [...options, '-threads', String(THREADS), ...(seekS === undefined ? [] : ['-ss', seekS.toFixed(6)]), '-i', mediaUrl(path)];
}
