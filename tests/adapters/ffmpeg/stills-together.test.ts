import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FfmpegFrameSource } from '../../../src/adapters/ffmpeg/ffmpeg-frame-source.ts';
import { locateProgram } from '../../../src/adapters/ffmpeg/locate-program.ts';
import type { ReadClipPath } from '../../../src/ports.ts';
import { makeMovie, programPath } from '../../support/make-media.ts';

const never = new AbortController().signal;
const RASTER = { width: 256, height: 144 };
const FRAMES = [3, 40];
let builds: readonly string[] = [];
let folder = '';

beforeAll(async () => {
  const npm = await locateProgram('ffmpeg', { asked: undefined, searchPath: undefined });
  builds = [...new Set([await programPath('ffmpeg'), ...(npm.kind === 'found' ? [npm.path] : [])])];
  folder = mkdtempSync(join(tmpdir(), 'gemel-test-'));
  await makeMovie(join(folder, 'a.mov'), { codec: ['-c:v', 'prores_ks'], rate: '24', frames: 60, numbered: true, size: '256x144' });
  await makeMovie(join(folder, 'b.mov'), { codec: ['-c:v', 'libx264', '-g', '50', '-bf', '3', '-pix_fmt', 'yuv420p'], rate: '24', frames: 60, numbered: true, size: '256x144' });
  writeFileSync(join(folder, 'c.mov'), 'these are words');
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

function clipAt(file: string): ReadClipPath {
  return { clip: { file, kind: 'movie' }, path: join(folder, file), rateText: '24/1', raster: RASTER };
}

function hex(stills: readonly (Uint8Array | undefined)[]): readonly (string | undefined)[] {
  return stills.map((still) => still && Buffer.from(still).toString('hex'));
}

describe('stills of several clips asked for at once', () => {
  it('are the bytes each clip gives alone, whatever pixels the others have', async () => {
    for (const build of builds) {
      const source = new FfmpegFrameSource(build);
      const alone = [await source.stills(clipAt('a.mov'), FRAMES, 128, never), await source.stills(clipAt('b.mov'), FRAMES, 128, never)];
      const together = await Promise.all([source.stills(clipAt('a.mov'), FRAMES, 128, never), source.stills(clipAt('b.mov'), FRAMES, 128, never)]);
      expect(alone.flat().every((still) => still !== undefined)).toBe(true);
      expect(together.map(hex)).toEqual(alone.map(hex));
    }
  });

  it('are all there but those of a clip that is none, or is of another raster than it says', async () => {
    const source = new FfmpegFrameSource(builds[0] ?? '');
    await makeMovie(join(folder, 'square.mov'), { codec: ['-c:v', 'prores_ks'], rate: '24', frames: 60, size: '144x144' });
    const [a, c, square] = await Promise.all([source.stills(clipAt('a.mov'), FRAMES, 128, never), source.stills(clipAt('c.mov'), FRAMES, 128, never), source.stills(clipAt('square.mov'), FRAMES, 128, never)]);
    expect(hex(a ?? [])).toEqual(hex(await source.stills(clipAt('a.mov'), FRAMES, 128, never)));
    expect(c).toEqual(FRAMES.map(() => undefined));
    expect(hex(square ?? [])).toEqual(hex(await source.stills(clipAt('square.mov'), FRAMES, 128, never)));
    expect(square?.every((still) => still !== undefined)).toBe(true);
  });

  it('are answered one after another when there are more than decode side by side', async () => {
    const source = new FfmpegFrameSource(builds[0] ?? '');
    const unknown: ReadClipPath = { ...clipAt('a.mov'), raster: undefined };
    const all = await Promise.all(Array.from({ length: 5 }, async (_, index) => source.stills(unknown, [index], 128, never)));
    expect(all.every(([still]) => still !== undefined)).toBe(true);
  });
});
