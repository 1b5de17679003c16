/** One opening of a file in a decode: skip to `seekS` seconds, then keep the frames `picks` (counted from there) and read no further. */
export interface DecodeInput {
  readonly path: string;
  readonly format: 'movie' | 'exr_pipe' | 'dpx_pipe' | 'tiff_pipe' | 'png_pipe';
  readonly seekS?: number;
  readonly picks: readonly number[];
}

/**
 * Nearer than this, decoding on to the next wanted frame is cheaper than opening the file again and seeking.
 * Common practice, no source; a long-GOP file seeks by half a second anyway.
 */
const NEAR_FRAMES = 12;

/**
 * How to reach frames of one movie, sorted and without doubles. With a known rate, frames that lie far apart are sought one
 * by one; the aim is a quarter of a frame early, which rounds to the right frame both where a tick is a whole frame (MXF, where
 * half a frame rounded wrong at 24000/1001; measured with FFmpeg 4.1 and 5.1) and where ticks are fine.
 */
export function planMovieDecode(path: string, frames: readonly number[], framesPerSecond: number | undefined): readonly DecodeInput[] {
  const runs: number[][] = [];
  for (const frame of frames) {
    const run = runs.at(-1);
    const last = run?.at(-1);
    if (run !== undefined && last !== undefined && (framesPerSecond === undefined || frame - last <= NEAR_FRAMES)) run.push(frame);
    else runs.push([frame]);
  }
  return runs.map((run) => {
    const first = run[0] ?? 0;
    if (framesPerSecond === undefined || first <= NEAR_FRAMES) return { path, format: 'movie', picks: run };
    return { path, format: 'movie', seekS: (first - 0.25) / framesPerSecond, picks: run.map((frame) => frame - first) };
  });
}

const IMAGE_FORMATS: Readonly<Record<string, DecodeInput['format']>> = {
  exr: 'exr_pipe',
  dpx: 'dpx_pipe',
  tif: 'tiff_pipe',
  tiff: 'tiff_pipe',
  png: 'png_pipe',
};

/** How to read one image. By its own demuxer, for the one for sequences would take a "%04d" in the name for a number. Undefined for other images. */
export function planImageDecode(path: string): DecodeInput | undefined {
  const format = IMAGE_FORMATS[path.slice(path.lastIndexOf('.') + 1).toLowerCase()];
  return format === undefined ? undefined : { path, format, picks: [0] };
}

/**
 * The filter graph that turns the picks of every input into one run of pictures `widthPx` wide, and ends reading after the last pick. Each
 * input is brought to the pixels of the JPEG by itself, so that no picture depends on its neighbours.
 */
export function decodeGraph(inputs: readonly DecodeInput[], widthPx: number): string {
  const chains = inputs.map(({ picks }, index) => {
    const chosen = picks.map((pick) => `eq(n\\,${pick})`).join('+');
    const last = picks.at(-1) ?? 0;
    return `[${index}:v:0]trim=end_frame=${last + 1},select=${chosen},scale=${widthPx}:-2:flags=bicubic+accurate_rnd+bitexact,setsar=1,format=yuvj420p[v${index}]`;
  });
  const joined = inputs.length === 1 ? '[v0]' : `${inputs.map((_, index) => `[v${index}]`).join('')}concat=n=${inputs.length},`;
  // One picture a 24th of a second: old and new builds then neither double nor drop any, without an option that either lacks.
  return `${chains.join(';')};${joined}setpts=N/24/TB[out]`;
}
