import type { PictureClip } from '../../ports.ts';
import { ANY_INPUT, lastWords, mediaUrl, MOVIE_INPUT } from './media-url.ts';
import { runProgram } from './run-program.ts';

/** What decoding proxies must know of a clip beforehand. The raster is the picture as it is shown: turned upright, not de-squeezed. */
export interface ProxyFacts {
  readonly raster: { readonly width: number; readonly height: number };
  /** Width over height on the screen. */
  readonly aspect: number;
  readonly hasSound: boolean;
  /** As FFmpeg names it; "" when the file does not say. */
  readonly transfer: string;
}

/** Asks ffprobe. @throws {Error} whose message says why there is nothing to measure. */
export async function proxyFacts(ffprobe: string, { at: { clip, path }, squeeze }: PictureClip, firstImage: string | undefined, signal: AbortSignal): Promise<ProxyFacts> {
  const file = clip.kind === 'sequence' ? (firstImage ?? path) : path;
  const input = clip.kind === 'sequence' ? ANY_INPUT : MOVIE_INPUT;
  const wanted = 'stream=codec_type,width,height,sample_aspect_ratio,color_transfer:stream_side_data=rotation:stream_tags=rotate';
  const run = await runProgram(ffprobe, ['-v', 'error', ...input, '-show_entries', wanted, '-of', 'json', '-i', mediaUrl(file)], { timeoutMs: 60_000, maxOutputBytes: 4 * 1024 * 1024, signal });
  if (run.timedOut) throw new Error('ffprobe took longer than 60 s');
  if (run.code !== 0) throw new Error(`ffprobe said: ${lastWords(run.stderr, file)}`);
  const streams = listOf(recordOf(JSON.parse(new TextDecoder().decode(run.stdout)))['streams']).map(recordOf);
  const picture = streams.find((stream) => stream['codec_type'] === 'video');
  const [width, height] = [Number(picture?.['width']), Number(picture?.['height'])];
  if (picture === undefined || !(width > 0) || !(height > 0)) throw new Error('there is no picture in it');
  const turned = isTurned(picture);
  const stated = ratioOf(picture['sample_aspect_ratio']);
  const pixelAspect = stated === 1 && squeeze !== undefined && squeeze > 0 ? squeeze : turned ? 1 / stated : stated;
  const raster = turned ? { width: height, height: width } : { width, height };
  const transfer = typeof picture['color_transfer'] === 'string' ? picture['color_transfer'] : '';
  return { raster, aspect: (raster.width * pixelAspect) / raster.height, hasSound: streams.some((stream) => stream['codec_type'] === 'audio'), transfer };
}

/** Whether FFmpeg will turn it by a quarter, as it does by itself. */
function isTurned(picture: Readonly<Record<string, unknown>>): boolean {
  const turns = [...listOf(picture['side_data_list']).map((side) => recordOf(side)['rotation']), recordOf(picture['tags'])['rotate']];
  return turns.some((turn) => turn !== undefined && Math.abs(Math.abs(Number(turn)) % 180) === 90);
}

/** "2:1" as 2; 1 when nobody says. */
function ratioOf(text: unknown): number {
  const [over = 0, under = 0] = (typeof text === 'string' ? text : '').split(':').map(Number);
  return over > 0 && under > 0 ? over / under : 1;
}

function recordOf(value: unknown): Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null ? Object.fromEntries(Object.entries(value)) : {};
}

function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}
