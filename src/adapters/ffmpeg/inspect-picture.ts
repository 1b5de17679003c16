import { lastWords, mediaUrl, MOVIE_INPUT } from './media-url.ts';
import { runProgram } from './run-program.ts';

/** What pulling frames must know of a movie beyond its index: when its pictures start against the container, and how colour is coded. */
export interface PictureCoding {
  /** Seconds from the start of the container to the first picture; undefined when nobody says, and then nothing may be sought. */
  readonly startsAtS: number | undefined;
  /** "yuv422p10le"; "" when nobody says. */
  readonly pixelFormat: string;
  /** FFmpeg's name of the matrix as the file states it; "" when it does not. */
  readonly matrix: string;
  readonly height: number;
}

export const UNKNOWN_CODING: PictureCoding = { startsAtS: undefined, pixelFormat: '', matrix: '', height: 0 };

/** Asks ffprobe. Whatever it does not say stays unknown. @throws {Error} when it cannot read the movie or takes too long: to go on would be to guess. */
export async function inspectPicture(ffprobe: string, path: string, signal: AbortSignal): Promise<PictureCoding> {
  const wanted = 'stream=start_time,pix_fmt,color_space,height:format=start_time';
  const args = ['-v', 'error', ...MOVIE_INPUT, '-select_streams', 'v:0', '-show_entries', wanted, '-of', 'json', '-i', mediaUrl(path)];
  const run = await runProgram(ffprobe, args, { timeoutMs: 60_000, maxOutputBytes: 1024 * 1024, signal });
  if (run.timedOut) throw new Error('ffprobe took longer than 60 s');
  if (run.code !== 0) throw new Error(`ffprobe said: ${lastWords(run.stderr, path)}`);
  const answer: unknown = JSON.parse(new TextDecoder().decode(run.stdout));
  const stream = recordOf(listOf(recordOf(answer)['streams'])[0]);
  const starts = [stream['start_time'], recordOf(recordOf(answer)['format'])['start_time']].map(Number);
  const [ofPicture = Number.NaN, ofFile = Number.NaN] = starts;
  const matrix = textOf(stream['color_space']);
  return {
    startsAtS: Number.isFinite(ofPicture - ofFile) ? ofPicture - ofFile : undefined,
    pixelFormat: textOf(stream['pix_fmt']),
    matrix: ['unknown', 'unspecified', 'reserved'].includes(matrix) ? '' : matrix,
    height: Number(stream['height'] ?? 0),
  };
}

function recordOf(value: unknown): Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null ? Object.fromEntries(Object.entries(value)) : {};
}

function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}

function textOf(value: unknown): string {
  return typeof value === 'string' ? value : '';
}
