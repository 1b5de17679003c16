import type { LumaFrame } from '../../src/core/picture/frame.ts';
import { makeFile, SOUND } from './make-media.ts';

export interface SceneMovie {
  /** Size of the movie; the scene is scaled up bicubically. Default 640 x 360. */
  readonly size?: string;
  readonly codec?: readonly string[];
  readonly rate?: string;
  readonly timecode?: string;
  /** Samples of one channel, 48,000 a second. */
  readonly sound?: Float32Array;
  readonly filters?: string;
  readonly more?: readonly string[];
}

const PRORES = ['-c:v', 'prores_ks', '-profile:v', '2', '-pix_fmt', 'yuv422p10le'];

/** Photographs a drawn scene: its frames as a movie, as a camera would have recorded them. */
export async function makeSceneMovie(path: string, frames: readonly LumaFrame[], { size = '640x360', codec = PRORES, rate = '24', timecode, sound, filters, more = [] }: SceneMovie = {}): Promise<void> {
  const [first] = frames;
  if (first === undefined) throw new Error('a movie without frames');
  const raw = new Uint16Array(frames.length * first.values.length);
  frames.forEach(({ values }, t) => values.forEach((value, i) => { raw[t * values.length + i] = Math.round(257 * Math.min(255, Math.max(0, value))); }));
  const heard = sound === undefined ? [] : ['-f', 'f32le', '-ar', '48000', '-ac', '1', '-i', SOUND];
  const video = ['-f', 'rawvideo', '-pix_fmt', 'gray16le', '-s', `${first.width}x${first.height}`, '-r', rate, '-i', 'pipe:0'];
  const label = timecode === undefined ? [] : ['-timecode', timecode];
  const scale = `scale=${size.replace('x', ':')}:flags=bicubic${filters === undefined ? '' : `,${filters}`}`;
  const args = [...video, ...heard, '-vf', scale, ...codec, ...(sound === undefined ? [] : ['-c:a', 'pcm_s16le']), ...label, ...more];
  const bytes = sound === undefined ? {} : { sound: new Uint8Array(sound.buffer, sound.byteOffset, sound.byteLength) };
  await makeFile(path, args, { pictures: new Uint8Array(raw.buffer), ...bytes });
}
