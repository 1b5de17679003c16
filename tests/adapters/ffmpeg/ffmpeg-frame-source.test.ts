import { copyFileSync, mkdirSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { FfmpegFrameSource } from '../../../src/adapters/ffmpeg/ffmpeg-frame-source.ts';
import { locateProgram } from '../../../src/adapters/ffmpeg/locate-program.ts';
import type { ReadClipPath } from '../../../src/ports.ts';
import { fingerprint, makeMovie, makeSequence, programPath, readFrameNumbers, temporaryFolder } from '../../support/make-media.ts';

const never = new AbortController().signal;
let builds: readonly string[] = [];
beforeAll(async () => {
  const npm = await locateProgram('ffmpeg', { asked: undefined, searchPath: undefined });
  builds = [...new Set([await programPath('ffmpeg'), ...(npm.kind === 'found' ? [npm.path] : [])])];
});

function movieAt(path: string, rateText?: string): ReadClipPath {
  return { clip: { file: 'a.mov', kind: 'movie' }, path, rateText };
}

async function numbersOf(stills: readonly (Uint8Array | undefined)[]): Promise<readonly (number | undefined)[]> {
  const numbers = [...(await readFrameNumbers(stills.filter((still) => still !== undefined)))];
  return stills.map((still) => (still === undefined ? undefined : numbers.shift()));
}

const LONG_GOP = ['-c:v', 'libx264', '-g', '50', '-bf', '3', '-pix_fmt', 'yuv420p'];

describe('stills of a movie', () => {
  it.each([
    ['ProRes in MOV', 'a.mov', ['-c:v', 'prores_ks'], '24000/1001'],
    ['H.264 with B-frames and a key frame every 50, MP4', 'a.mp4', LONG_GOP, '30000/1001'],
    ['H.264 with B-frames and a key frame every 50, MOV', 'a.mov', LONG_GOP, '24'],
    ['MPEG-2 with B-frames, MXF OP1a', 'a.mxf', ['-c:v', 'mpeg2video', '-g', '12', '-bf', '2', '-b:v', '5M', '-pix_fmt', 'yuv420p'], '25'],
    ['DNxHR in MXF OP1a', 'a.mxf', ['-c:v', 'dnxhd', '-profile:v', 'dnxhr_sq'], '24000/1001'],
  ])('are the frames asked for, near and far, by seeking as by decoding all: %s', async (_what, name, codec, rate) => {
    const path = join(temporaryFolder(), name);
    await makeMovie(path, { codec, rate, frames: 200, numbered: true, size: '256x144' });
    const wanted = [0, 1, 12, 13, 25, 49, 50, 51, 100, 101, 150, 199];
    for (const build of builds) {
      const source = new FfmpegFrameSource(build);
      expect(await numbersOf(await source.stills(movieAt(path, rate), wanted, 128, never))).toEqual(wanted);
    }
    const source = new FfmpegFrameSource(builds[0] ?? '');
    const alone = [0, 49, 51, 199];
    const counted = await source.stills(movieAt(path), alone, 128, never);
    for (const [at, frame] of alone.entries()) {
      const sought = await source.stills(movieAt(path, rate), [frame], 128, never);
      expect(Buffer.compare(Buffer.from(sought[0] ?? []), Buffer.from(counted[at] ?? []))).toBe(0);
    }
  });

  it('come in the order asked for, doubles too, and none for frames that are not there', async () => {
    const path = join(temporaryFolder(), 'a.mov');
    await makeMovie(path, { frames: 40, numbered: true });
    for (const rateText of ['24/1', undefined]) {
      const stills = await new FfmpegFrameSource(builds[0] ?? '').stills(movieAt(path, rateText), [30, 2, 30, 39, 40, 5000, -1, 0.5], 128, never);
      expect(await numbersOf(stills)).toEqual([30, 2, 30, 39, undefined, undefined, undefined, undefined]);
    }
  });

  it('are as wide as asked, keep the picture’s shape, and are the same bytes every time', async () => {
    const path = join(temporaryFolder(), 'a.mov');
    await makeMovie(path, { size: '256x144' });
    const source = new FfmpegFrameSource(builds[0] ?? '');
    const [first] = await source.stills(movieAt(path, '24'), [3], 96, never);
    const [again] = await source.stills(movieAt(path, '24'), [3], 96, never);
    expect(jpegSize(first)).toEqual({ width: 96, height: 54 });
    expect(Buffer.compare(Buffer.from(first ?? []), Buffer.from(again ?? []))).toBe(0);
  });

  it.each(['-x.mov', 'a\nb.mov', `q'"$(x);[0].mov`, 'http:x.mov', 'concat:a|b.mov', 'n%04d.mov', 'e\u0301,=:.mov'])('come from a file named %j', async (name) => {
    const folder = temporaryFolder();
    await makeMovie(join(folder, 'plain.mov'), { numbered: true });
    copyFileSync(join(folder, 'plain.mov'), join(folder, name));
    for (const build of builds) {
      expect(await numbersOf(await new FfmpegFrameSource(build).stills(movieAt(join(folder, name), '24'), [5, 20], 128, never))).toEqual([5, 20]);
    }
  });

  it('are none when the file is no movie, and an error when there is no ffmpeg', async () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'text.mov'), 'these are words');
    expect(await new FfmpegFrameSource(builds[0] ?? '').stills(movieAt(join(folder, 'text.mov'), '24'), [0], 96, never)).toEqual([undefined]);
    await expect(new FfmpegFrameSource(join(folder, 'nowhere')).stills(movieAt(join(folder, 'text.mov'), '24'), [0], 96, never)).rejects.toThrow();
  });

  it('leave the media and the temporary folder as they were', async () => {
    const folder = temporaryFolder();
    await makeMovie(join(folder, 'a.mov'), { numbered: true });
    const before = fingerprint(folder);
    await new FfmpegFrameSource(builds[0] ?? '').stills(movieAt(join(folder, 'a.mov'), '24'), [0, 20], 96, never);
    expect(fingerprint(folder)).toEqual(before);
  });

  it('stop when told to', async () => {
    const path = join(temporaryFolder(), 'a.mov');
    await makeMovie(path, { frames: 200 });
    const stop = new AbortController();
    const asked = new FfmpegFrameSource(builds[0] ?? '').stills(movieAt(path), [199], 96, stop.signal);
    setTimeout(() => stop.abort(new Error('enough')), 5);
    await expect(asked).rejects.toThrow('enough');
  });
});

describe('stills of a sequence', () => {
  const sequence = { first: 1001, last: 1008, padding: 7, missing: [{ start: 1004, end: 1006 }] };

  it.each(['dpx', 'exr', 'png', 'tif'] as const)('are the files of those numbers, none in a hole: %s', async (extension) => {
    const folder = join(temporaryFolder(), `odd %d 'name'`);
    await makeSequence(join(folder, '..', 'plain'), 'A001C001', extension, 8);
    mkdirSync(folder);
    for (const name of readdirSync(join(folder, '..', 'plain'))) {
      if (!/100[45]/.test(name)) renameSync(join(folder, '..', 'plain', name), join(folder, name));
    }
    const clip: ReadClipPath = {
      clip: { file: `A001C001.#######.${extension}`, kind: 'sequence', sequence },
      path: join(folder, `A001C001.#######.${extension}`),
      rateText: '24/1',
    };
    for (const build of builds) {
      const stills = await new FfmpegFrameSource(build).stills(clip, [0, 1, 3, 4, 7, 8], 64, never);
      expect(stills.map((still) => still !== undefined)).toEqual([true, true, false, false, true, false]);
      expect(jpegSize(stills[0])).toEqual({ width: 64, height: 36 });
      expect(Buffer.compare(Buffer.from(stills[0] ?? []), Buffer.from(stills[4] ?? []))).not.toBe(0);
    }
  });

  it('lack only the frame whose file is broken', async () => {
    const folder = temporaryFolder();
    await makeSequence(folder, 'p', 'png', 3);
    writeFileSync(join(folder, 'p.0001002.png'), readFileSync(join(folder, 'p.0001002.png')).subarray(0, 30));
    const path = join(folder, 'p.#######.png');
    const clip: ReadClipPath = { clip: { file: 'p.#######.png', kind: 'sequence', sequence: { ...sequence, last: 1003, missing: [] } }, path, rateText: undefined };
    const stills = await new FfmpegFrameSource(builds[0] ?? '').stills(clip, [0, 1, 2], 64, never);
    expect(stills.map((still) => still !== undefined)).toEqual([true, false, true]);
  });
});

/** Size in the start-of-frame segment of a baseline JPEG (ITU-T T.81, B.2.2). */
function jpegSize(still: Uint8Array | undefined): { readonly width: number; readonly height: number } {
  const bytes = Buffer.from(still ?? []);
  const at = bytes.indexOf(Buffer.from([0xff, 0xc0]));
  return { width: bytes.readUInt16BE(at + 7), height: bytes.readUInt16BE(at + 5) };
}
