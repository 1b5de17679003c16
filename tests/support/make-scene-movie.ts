import { execFileSync } from 'node:child_process';
import { rmSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { LumaFrame } from '../../src/core/picture/frame.ts';
import { programPath } from './make-media.ts';

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
  const soundFile = `${resolve(path)}.f32`;
  if (sound !== undefined) writeFileSync(soundFile, new Uint8Array(sound.buffer, sound.byteOffset, sound.byteLength));
  const heard = sound === undefined ? [] : ['-f', 'f32le', '-ar', '48000', '-ac', '1', '-i', `file:${soundFile}`];
  const video = ['-f', 'rawvideo', '-pix_fmt', 'gray16le', '-s', `${first.width}x${first.height}`, '-r', rate, '-i', 'pipe:0'];
  const label = timecode === undefined ? [] : ['-timecode', timecode];
  const scale = `scale=${size.replace('x', ':')}:flags=bicubic${filters === undefined ? '' : `,${filters}`}`;
  const args = ['-v', 'error', '-nostdin', '-y', ...video, ...heard, '-vf', scale, ...codec, ...(sound === undefined ? [] : ['-c:a', 'pcm_s16le']), ...label, ...more, `file:${resolve(path)}`];
  try {
    execFileSync(await programPath('ffmpeg'), args.filter((arg) => arg !== '-nostdin'), { input: new Uint8Array(raw.buffer), stdio: ['pipe', 'ignore', 'inherit'], maxBuffer: 1 << 28 });
  } finally {
    rmSync(soundFile, { force: true });
  }
}
