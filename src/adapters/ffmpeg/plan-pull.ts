import type { FrameRange } from '../../core/timecode/range.ts';
import type { PullFormat } from '../../formats/media/pull-format.ts';
import type { NumberedFiles, ReadClipPath } from '../../ports.ts';
import type { PictureCoding } from './inspect-picture.ts';
import { ANY_INPUT, mediaUrl, MOVIE_INPUT } from './media-url.ts';

/** How FFmpeg writes each kind: 10 bit DPX, half-float EXR, 16 bit TIFF and PNG. */
const ENCODERS: Readonly<Record<PullFormat, { readonly name: string; readonly pixels: string; readonly options: readonly string[] }>> = {
  dpx: { name: 'dpx', pixels: 'gbrp10le', options: [] },
  exr: { name: 'exr', pixels: 'gbrpf32le', options: ['-format', 'half', '-compression', 'zip1'] },
  tiff: { name: 'tiff', pixels: 'rgb48le', options: ['-compression_algo', 'raw'] },
  png: { name: 'png', pixels: 'rgb48be', options: ['-compression_level', '3', '-pred', 'mixed'] },
};

/** The encoder an FFmpeg must have for a kind of picture. */
export function encoderFor(format: PullFormat): string {
  return ENCODERS[format].name;
}

/** Nearer to the start than this, a movie is decoded from its first frame. */
const NEAR_FRAMES = 12;

/**
 * The options that open a clip at the first frame of a range. A quarter of a frame early rounds to the right frame both where a
 * tick is a whole frame and where ticks are fine; decoding starts at the key frame before it and drops what comes too soon, so
 * it is exact in long-GOP files too. Without the rate, or without knowing when the pictures start, all before is decoded.
 */
export function inputOf(clip: ReadClipPath, range: FrameRange, coding: PictureCoding): { readonly args: readonly string[]; readonly skip: number } {
  if (clip.clip.kind === 'sequence') return { args: sequenceInput(clip, range), skip: 0 };
  const rate = framesPerSecond(clip.rateText);
  if (rate === undefined || coding.startsAtS === undefined || range.start <= NEAR_FRAMES) return { args: [...MOVIE_INPUT, '-i', mediaUrl(clip.path)], skip: range.start };
  const seekS = (range.start - 0.25) / rate + coding.startsAtS;
  return { args: [...MOVIE_INPUT, '-ss', seekS.toFixed(6), '-i', mediaUrl(clip.path)], skip: 0 };
}

function sequenceInput({ path, clip }: ReadClipPath, { start }: FrameRange): readonly string[] {
  const { sequence } = clip;
  if (sequence === undefined) throw new Error(`${clip.file} has no numbering`);
  const first = sequence.first + start;
  if (first < 0) throw new Error(`${clip.file} has frame numbers below 0, which FFmpeg does not read`);
  const marks = '#'.repeat(Math.max(1, sequence.padding));
  const at = path.lastIndexOf(marks);
  // "%" in folder names stays a sign: only the run of marks becomes a number.
  const pattern = at < 0 ? path.replaceAll('%', '%%') : `${path.slice(0, at).replaceAll('%', '%%')}%0${sequence.padding}d${path.slice(at + marks.length).replaceAll('%', '%%')}`;
  return [...ANY_INPUT, '-f', 'image2', '-pattern_type', 'sequence', '-framerate', '24', '-start_number_range', '1', '-start_number', String(first), '-i', mediaUrl(pattern)];
}

/** The filters that keep the range and turn it into the pixels of the format. One picture a 24th of a second, so that none is doubled or dropped. */
export function pullFilters(range: FrameRange, skip: number, format: PullFormat, coding: PictureCoding): string {
  const kept = `trim=start_frame=${skip}:end_frame=${skip + range.end - range.start}`;
  return `${kept},${toPixels(ENCODERS[format].pixels, coding)},setpts=N/24/TB`;
}

function toPixels(pixels: string, coding: PictureCoding): string {
  const matrix = isYuv(coding) ? `in_color_matrix=${matrixOf(coding)}:` : '';
  // The lines on top of a DPX make room for its header (`linesForHeader`).
  const room = pixels === ENCODERS.dpx.pixels ? ',pad=w=iw:h=ih+ceil(96/iw):x=0:y=oh-ih' : '';
  return `scale=${matrix}flags=bicubic+accurate_rnd+full_chroma_int+bitexact,format=${pixels}${room}`;
}

/** The options that write EXR pictures one after the other to the output of the program: their headers have yet to grow. */
export function exrStream(): readonly string[] {
  return [...encoding('exr'), '-f', 'image2pipe', 'pipe:1'];
}

/** The options that write pictures as files, each under its name when it is whole. "%" in folder names stays a sign. */
export function pictureFiles(format: PullFormat, { before, after, padding, firstNumber }: NumberedFiles): readonly string[] {
  const pattern = `${before.replaceAll('%', '%%')}%0${padding}d${after.replaceAll('%', '%%')}`;
  return [...encoding(format), '-f', 'image2', '-atomic_writing', '1', '-start_number', String(firstNumber), mediaUrl(pattern)];
}

function encoding(format: PullFormat): readonly string[] {
  const { name, options } = ENCODERS[format];
  return ['-r', '24', '-c:v', name, ...options, '-flags:v', '+bitexact'];
}

/** What becomes of code values, in words for whoever receives them. */
export function colourWords(coding: PictureCoding): string {
  const untouched = 'Code values as recorded: no transfer function, gamut or look was applied.';
  if (!isYuv(coding)) return untouched;
  const from = coding.matrix === '' ? 'assumed, for the file states none' : 'as the file states';
  return `${untouched} Y'CbCr became R'G'B' in full range by the ${MATRIX_NAMES[matrixOf(coding)] ?? coding.matrix} matrix (${from}).`;
}

function isYuv({ pixelFormat }: PictureCoding): boolean {
  return /^(yuv|nv|p0|p2|y2|uyvy|yuy)/.test(pixelFormat);
}

const MATRIX_NAMES: Readonly<Record<string, string>> = { bt709: 'BT.709', bt601: 'BT.601', bt2020: 'BT.2020', smpte240m: 'SMPTE 240M' };

/** The name the scale filter knows. Untagged pictures of 720 lines and more are taken for BT.709, smaller ones for BT.601 (common practice, no source). */
function matrixOf({ matrix, height }: PictureCoding): string {
  if (matrix === 'bt709' || matrix === 'smpte240m') return matrix;
  if (matrix.startsWith('bt2020')) return 'bt2020';
  if (matrix !== '') return 'bt601';
  return height >= 720 ? 'bt709' : 'bt601';
}

/** Frames a second of a rate such as "24000/1001". */
export function framesPerSecond(rateText: string | undefined): number | undefined {
  const [num, den = 1] = (rateText ?? '').split('/').map(Number);
  const rate = (num ?? 0) / den;
  return Number.isFinite(rate) && rate > 0 ? rate : undefined;
}
