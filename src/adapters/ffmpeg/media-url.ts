import { resolve } from 'node:path';

/** Containers a clip may be; keeps play lists and scripts that call themselves .mov from naming further files to open. */
const MOVIE_FORMATS = 'mov,mxf,avi,matroska,mpegts,mpeg,mpegvideo,dv,gxf,r3d';

/** A header may claim any raster; the largest cinema cameras stay below 150 million pixels. */
const MOST_PIXELS = '200000000';

/** Options before every input: only files may be opened, and no picture is so large that it fills the memory. */
export const ANY_INPUT: readonly string[] = ['-protocol_whitelist', 'file', '-max_pixels', MOST_PIXELS];

/** Options before an input that is a movie: only media demuxers, besides. */
export const MOVIE_INPUT: readonly string[] = [...ANY_INPUT, '-format_whitelist', MOVIE_FORMATS];

/**
 * The name by which FFmpeg opens a file and nothing else: absolute, behind the `file:` protocol, so that a leading "-",
 * "http:", "concat:" and the like in a file name stay letters. Needs no quoting: it travels as one argument.
 */
export function mediaUrl(path: string): string {
  return `file:${resolve(path)}`;
}

/** What FFmpeg said, without the place on this machine where the file lies, cut to its last line. */
export function lastWords(stderr: string, path: string): string {
  const said = stderr.replaceAll(mediaUrl(path), 'the file').replaceAll(resolve(path), 'the file');
  const lines = said.split('\n').map((line) => line.replace(/^\[[^\]]*\]\s*/, '').trim());
  return lines.findLast((line) => line !== '')?.slice(0, 300) ?? 'nothing';
}
