import { PROXY_PX } from '../../core/picture/measure/clip-frames.ts';
import type { ReadClipPath } from '../../ports.ts';
import { ANY_INPUT, mediaUrl, MOVIE_INPUT } from './media-url.ts';
import type { ProxyFacts } from './proxy-facts.ts';

const LONGER_SIDE = PROXY_PX;
const LEAST_SIDE = 16;
/** Pieces of a sequence between holes; a sequence with more is not worth measuring. */
const MOST_PIECES = 24;

export interface ProxySize {
  readonly width: number;
  readonly height: number;
}

/** The raster of a clip's proxies: 320 px on the longer side, at the shape people see. */
export function proxySize({ aspect }: Pick<ProxyFacts, 'aspect'>): ProxySize {
  const other = (ratio: number): number => Math.min(LONGER_SIDE, Math.max(LEAST_SIDE, Math.round(LONGER_SIDE / ratio)));
  return aspect >= 1 ? { width: LONGER_SIDE, height: other(aspect) } : { width: other(1 / aspect), height: LONGER_SIDE };
}

/** How a clip is opened: the options of each input, and the clip's frame numbers in the order they come; undefined: from 0 on without end. */
export interface ProxyInputs {
  readonly inputs: readonly (readonly string[])[];
  readonly numbers: readonly number[] | undefined;
  /** The first image of a sequence. */
  readonly firstImage?: string;
}

/** @throws {Error} for a sequence that cannot be opened as one run of pictures. */
export function openProxies({ clip, path }: ReadClipPath): ProxyInputs {
  if (clip.kind !== 'sequence') return { inputs: [[...MOVIE_INPUT, '-i', mediaUrl(path)]], numbers: undefined };
  const { sequence } = clip;
  if (sequence === undefined || sequence.first < 0) throw new Error('its numbering cannot be read as one run');
  const pieces = piecesOf(sequence);
  if (pieces.length > MOST_PIECES) throw new Error(`its numbering has ${sequence.missing.length} holes`);
  const marks = '#'.repeat(Math.max(1, sequence.padding));
  const at = path.lastIndexOf(marks);
  const [before, after] = at < 0 ? [path, ''] : [path.slice(0, at), path.slice(at + marks.length)];
  // "%" in folder names stays a sign: only the run of marks becomes a number.
  const pattern = at < 0 ? path.replaceAll('%', '%%') : `${before.replaceAll('%', '%%')}%0${sequence.padding}d${after.replaceAll('%', '%%')}`;
  const inputs = pieces.map(({ start }) => [...ANY_INPUT, '-f', 'image2', '-pattern_type', 'sequence', '-framerate', '24', '-start_number_range', '1', '-start_number', String(start), '-i', mediaUrl(pattern)]);
  const numbers = pieces.flatMap(({ start, end }) => Array.from({ length: end - start }, (_, i) => start - sequence.first + i));
  const firstImage = at < 0 ? path : `${before}${String(sequence.first).padStart(sequence.padding, '0')}${after}`;
  return { inputs, numbers, firstImage };
}

/** The runs of numbers between the holes, `end` exclusive. */
function piecesOf({ first, last, missing }: NonNullable<ReadClipPath['clip']['sequence']>): readonly { readonly start: number; readonly end: number }[] {
  const pieces: { start: number; end: number }[] = [];
  let start = first;
  for (const hole of missing.toSorted((a, b) => a.start - b.start)) {
    if (hole.start > start) pieces.push({ start, end: hole.start });
    start = Math.max(start, hole.end);
  }
  if (start <= last) pieces.push({ start, end: last + 1 });
  return pieces;
}

/** What one decode writes: luma on 1, a few frames in colour on 3, sound on 4. `colour` are places in the run of pictures. */
export interface ProxyOutputs {
  readonly size: ProxySize;
  readonly colour: readonly number[];
  readonly hasSound: boolean;
  readonly mostFrames: number;
  readonly soundRate: number;
}

/** All options of one decode. Averages over whole pixels are kept in 16 bit: in 8 the noise of a proxy is lost. */
export function proxyArgs({ inputs, numbers }: ProxyInputs, { size, colour, hasSound, mostFrames, soundRate }: ProxyOutputs): readonly string[] {
  // For luma alone the accurate and the quick way give the same samples; colour is a few frames.
  const scale = (accurate: string): string => `scale=${size.width}:${size.height}:flags=bicubic${accurate}+bitexact:out_range=pc`;
  const pieces = numbers === undefined || inputs.length === 1 ? '[0:v:0]' : `${inputs.map((_, index) => `[${index}:v:0]`).join('')}concat=n=${inputs.length},`;
  const most = Math.min(mostFrames, numbers?.length ?? mostFrames);
  const chosen = colour.map((at) => `eq(n\\,${at})`).join('+');
  const graph = [
    `${pieces}trim=end_frame=${most},setpts=N/24/TB,split=2[all][some]`,
    `[all]${scale('')},setsar=1,format=gray16le[luma]`,
    `[some]select=${chosen},setpts=N/24/TB,${scale('+accurate_rnd+full_chroma_int')},setsar=1,format=rgb48le[colour]`,
  ].join(';');
  const raw = (label: string, pipe: string): readonly string[] => ['-map', label, '-r', '24', '-c:v', 'rawvideo', '-f', 'rawvideo', pipe];
  const sound = ['-map', '0:a:0', '-ac', '1', '-af', `aresample=${soundRate}:async=1:first_pts=0`, '-t', '200', '-c:a', 'pcm_f32le', '-f', 'f32le', 'pipe:4'];
  return ['-v', 'error', '-nostdin', ...inputs.flat(), '-filter_complex', graph, ...raw('[luma]', 'pipe:1'), ...raw('[colour]', 'pipe:3'), ...(hasSound ? sound : [])];
}
