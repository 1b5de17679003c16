import { execFileSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { FfmpegPuller } from '../../../src/adapters/ffmpeg/pull-frames.ts';
import type { FrameRange } from '../../../src/core/timecode/range.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import type { PullFormat } from '../../../src/formats/media/pull-format.ts';
import { PULL_FORMATS } from '../../../src/formats/media/pull-format.ts';
import type { PictureStamp } from '../../../src/formats/media/stamp-dpx.ts';
import { stampDpx } from '../../../src/formats/media/stamp-dpx.ts';
import { stampExr } from '../../../src/formats/media/stamp-exr.ts';
import type { ReadClipPath } from '../../../src/ports.ts';
import { makeFile, makeMovie, makeSequence, programPath, sharedFolder, temporaryFolder } from '../../support/make-media.ts';
import { outsideProgram } from '../../support/outside.ts';

const font = createRequire(import.meta.url).resolve('dejavu-fonts-ttf/ttf/DejaVuSansMono.ttf');
const signal = new AbortController().signal;
const STAMP: PictureStamp = { timecode: { label: '14:22:33:04', phase: 0 }, rate: frameRate(24000, 1001), fileName: 'a.1001.dpx', source: 'A003C012_261125_R7QK.mov', slate: '27B-3' };
let folder = '';
let ffmpeg = '';
let puller: FfmpegPuller;

beforeAll(async () => {
  folder = sharedFolder();
  ffmpeg = await programPath('ffmpeg');
  puller = new FfmpegPuller({ ffmpeg, ffprobe: await programPath('ffprobe'), font });
  const longGop = ['-c:v', 'libx264', '-g', '48', '-bf', '3', '-pix_fmt', 'yuv420p'];
  await makeMovie(join(folder, 'long-gop.mov'), { frames: 120, rate: '24000/1001', codec: longGop });
  // Sound that begins before the picture moves the start of the container away from that of the pictures.
  await makeFile(join(folder, 'late-picture.mov'), [
    '-f', 'lavfi', '-i', 'testsrc2=size=128x72:rate=25', '-f', 'lavfi', '-i', 'sine', '-t', '4', '-filter_complex', '[0:v]setpts=PTS+0.52/TB[v]', '-map', '[v]', '-map', '1:a',
    ...longGop, '-c:a', 'aac',
  ]);
  await makeMovie(join(folder, 'intra.mov'), { frames: 40, codec: ['-c:v', 'prores_ks', '-pix_fmt', 'yuv422p10le'], timecode: '14:22:33:04' });
  await makeSequence(join(folder, 'seq'), 'plate', 'png', 12, 1001);
  renameSync(join(folder, 'seq'), join(folder, '100% seq'));
});

function movie(name: string, rateText: string): ReadClipPath {
  return { clip: { file: name, kind: 'movie' }, path: join(folder, name), rateText };
}

async function pulled(clip: ReadClipPath, range: FrameRange, format: PullFormat, stamp = STAMP): Promise<Map<number, Uint8Array>> {
  const pictures = new Map<number, Uint8Array>();
  if (format === 'exr') {
    await puller.pullExr(clip, range, async (frame, picture) => void pictures.set(frame, Buffer.concat(stampExr(picture, stamp))), signal);
    return pictures;
  }
  const files = { before: join(temporaryFolder(), '50% done.'), after: `.${format}`, padding: 4, firstNumber: 1001 };
  await puller.pullFiles(clip, range, format, files, async (frame) => {
    const bytes = readFileSync(`${files.before}${1001 + frame - range.start}${files.after}`);
    if (format === 'dpx') bytes.set(stampDpx(bytes.subarray(0, 2048), stamp));
    pictures.set(frame, bytes);
  }, signal);
  return pictures;
}

/** These frames alone, counted by FFmpeg from the first picture of the file, as raw pixels of a pixel format. */
function singly(path: string, frames: readonly number[], pixels: string): Buffer {
  const filters = `select=${frames.map((frame) => `eq(n\\,${frame})`).join('+')},scale=in_color_matrix=bt601:flags=bicubic+accurate_rnd+full_chroma_int+bitexact,format=${pixels}`;
  return execFileSync(ffmpeg, ['-v', 'error', '-i', path, '-vf', filters, '-vsync', '0', '-frames:v', String(frames.length), '-f', 'rawvideo', 'pipe:1'], { maxBuffer: 1 << 28 });
}

/** The pixels of pulled pictures, one after the other. */
function decoded(pictures: readonly (Uint8Array | undefined)[], extension: string, pixels: string): Buffer {
  const folder = temporaryFolder();
  pictures.forEach((picture, index) => writeFileSync(join(folder, `one.${String(index).padStart(4, '0')}.${extension}`), picture ?? ''));
  return execFileSync(ffmpeg, ['-v', 'error', '-i', join(folder, `one.%04d.${extension}`), '-pix_fmt', pixels, '-f', 'rawvideo', 'pipe:1'], { maxBuffer: 1 << 28 });
}

/** 128 x 72 px of three channels of 16 bits. */
const FRAME_BYTES = 128 * 72 * 6;

describe('pulling frames', () => {
  it.each([
    ['long-gop.mov', '24000/1001', [0, 13, 47, 48, 49, 97]],
    ['late-picture.mov', '25/1', [0, 14, 50, 61]],
  ] as const)('gives from %s pixel for pixel what FFmpeg decodes singly from the first frame on', async (name, rate, firsts) => {
    const wanted = firsts.flatMap((first) => [first, first + 1]);
    const pictures: Uint8Array[] = [];
    for (const first of firsts) {
      const pair = await pulled(movie(name, rate), { start: first, end: first + 2 }, 'tiff');
      expect([...pair.keys()]).toEqual([first, first + 1]);
      pictures.push(...pair.values());
    }
    const pixels = decoded(pictures, 'tiff', 'rgb48le');
    // Overlapping pairs ask twice for a frame.
    const each = new Map([...new Set(wanted)].map((frame, at) => [frame, at]));
    const counted = singly(join(folder, name), [...each.keys()], 'rgb48le');
    expect(counted.length).toBe(each.size * FRAME_BYTES);
    wanted.forEach((frame, at) => {
      const there = (each.get(frame) ?? -1) * FRAME_BYTES;
      expect(pixels.subarray(at * FRAME_BYTES, (at + 1) * FRAME_BYTES).equals(counted.subarray(there, there + FRAME_BYTES)), `frame ${frame}`).toBe(true);
    });
  });

  it.each([...PULL_FORMATS])('writes whole %s pictures, the first and the last among them', async (format) => {
    const fault = await puller.fault(format, signal);
    if (fault !== undefined) return expect(fault).toContain('install ffmpeg');
    const pictures = await pulled(movie('intra.mov', '24/1'), { start: 20, end: 40 }, format);
    expect([...pictures.keys()]).toEqual(Array.from({ length: 20 }, (_, index) => 20 + index));
    const pixels = { dpx: 'gbrp10be', exr: 'gbrpf32le', tiff: 'rgb48le', png: 'rgb48be' }[format];
    const wanted = singly(join(folder, 'intra.mov'), [33], pixels);
    const got = decoded([pictures.get(33)], format, pixels);
    if (format !== 'exr') return expect(got.equals(wanted)).toBe(true);
    // Half floats carry 11 bits of fraction: 10-bit code values survive to far less than one step.
    const floats = (bytes: Buffer): Float32Array => new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
    const other = floats(wanted);
    expect(Math.max(...floats(got).map((value, index) => Math.abs(value - (other[index] ?? 9))))).toBeLessThan(1 / 2048);
  });

  it('reads image sequences by the numbers in their names, "%" in a folder name or not', async () => {
    const clip: ReadClipPath = {
      clip: { file: 'plate.#######.png', kind: 'sequence', sequence: { first: 1001, last: 1012, padding: 7, missing: [] } },
      path: join(folder, '100% seq', 'plate.#######.png'), rateText: '24/1',
    };
    const pictures = await pulled(clip, { start: 3, end: 6 }, 'png');
    expect(pictures.size).toBe(3);
    expect(decoded([pictures.get(4)], 'png', 'rgb48be').equals(decoded([readFileSync(join(folder, '100% seq', 'plate.0001005.png'))], 'png', 'rgb48be'))).toBe(true);
  });

  it('says which frames could not be decoded when the clip ends too soon', async () => {
    await expect(pulled(movie('intra.mov', '24/1'), { start: 30, end: 45 }, 'png')).rejects.toThrow('10 of 15 frames from frame 30 on');
  });

  it('stops when a picture cannot be stored', async () => {
    const files = { before: join(temporaryFolder(), 'a.'), after: '.tif', padding: 4, firstNumber: 1 };
    const full = puller.pullFiles(movie('intra.mov', '24/1'), { start: 0, end: 40 }, 'tiff', files, () => Promise.reject(new Error('no space')), signal);
    await expect(full).rejects.toThrow('no space');
    await expect(puller.pullExr(movie('intra.mov', '24/1'), { start: 0, end: 40 }, () => Promise.reject(new Error('no space')), signal)).rejects.toThrow('no space');
  });

  it('names the missing EXR encoder and what to do before anything is pulled', async () => {
    const file = join(temporaryFolder(), 'old-ffmpeg');
    writeFileSync(file, '#!/bin/sh\necho " V..... dpx DPX"\n', { mode: 0o755 });
    const old = new FfmpegPuller({ ffmpeg: file, ffprobe: undefined, font });
    expect(await old.fault('exr', signal)).toBe(`the ffmpeg at ${file} cannot write EXR frames (it has no encoder exr); install ffmpeg 5.1 or newer, or set GEMEL_FFMPEG to one, or ask for --frames dpx`);
    expect(await old.fault('dpx', signal)).toBeUndefined();
  });

  it('makes a reference movie of exactly the range, whatever stands in the burned-in lines', async () => {
    const target = join(temporaryFolder(), 'movie.mov');
    const burnIn = { lines: ["SMR_027_0100: it's 100% \\ {n}", 'lead pass'], firstNumber: 1001, timecode: '14:22:33:12' };
    await puller.movie(movie('intra.mov', '24/1'), { start: 8, end: 20 }, burnIn, target, signal);
    const ffprobe = await programPath('ffprobe');
    const said = execFileSync(ffprobe, ['-v', 'error', '-count_frames', '-select_streams', 'v:0', '-show_entries', 'stream=nb_read_frames,r_frame_rate:stream_tags=timecode', '-of', 'default=nw=1', target], { encoding: 'utf8' });
    expect(said).toContain('nb_read_frames=12');
    expect(said).toContain('r_frame_rate=24/1');
    expect(said).toContain('timecode=14:22:33:12');
  });
});

describe('headers of pulled pictures', () => {
  it.skipIf(!outsideProgram('ffprobe'))('are read by ffprobe: DPX timecode, drop frame too, and the size of the picture', async () => {
    for (const label of ['14:22:33:04', '09:59:00;02']) {
      const [dpx] = (await pulled(movie('intra.mov', '24/1'), { start: 0, end: 1 }, 'dpx', { ...STAMP, timecode: { label, phase: 0 } })).values();
      const file = join(temporaryFolder(), 'a.dpx');
      writeFileSync(file, dpx ?? '');
      const said = execFileSync('ffprobe', ['-v', 'error', '-show_entries', 'stream=width,height:frame_tags=timecode', '-of', 'default=nw=1:nk=1', file], { encoding: 'utf8' });
      expect(said.trim().split(/\s+/)).toEqual(expect.arrayContaining(['128', '72', label]));
    }
  });

  it('leave a picture narrower than the header as it is', async () => {
    await makeMovie(join(folder, 'narrow.mov'), { frames: 2, size: '22x40', codec: ['-c:v', 'prores_ks', '-pix_fmt', 'yuv422p10le'] });
    const [dpx] = (await pulled(movie('narrow.mov', '24/1'), { start: 0, end: 1 }, 'dpx')).values();
    expect(decoded([dpx], 'dpx', 'gbrp10be').equals(singly(join(folder, 'narrow.mov'), [0], 'gbrp10be'))).toBe(true);
  });

  it.skipIf(!outsideProgram('exiftool'))('are read by ExifTool: rate, slate, source and timecode of DPX and EXR', async () => {
    const [dpx] = (await pulled(movie('intra.mov', '24/1'), { start: 0, end: 1 }, 'dpx')).values();
    const place = temporaryFolder();
    writeFileSync(join(place, 'a.dpx'), dpx ?? '');
    const tags = JSON.parse(execFileSync('exiftool', ['-j', '-n', '-a', join(place, 'a.dpx')], { encoding: 'utf8' }))[0];
    expect(tags).toMatchObject({ SlateInformation: '27B-3', SourceFileName: 'A003C012_261125_R7QK.mov', ImageWidth: 128, ImageHeight: 72 });
    expect(tags.OriginalFrameRate).toBeCloseTo(23.976, 3);
    expect(tags.FrameRate).toBeCloseTo(23.976, 3);
    expect(Number(tags.TimeCode).toString(16)).toBe('14223304');
    if ((await puller.fault('exr', signal)) !== undefined) return;
    const [exr] = (await pulled(movie('intra.mov', '24/1'), { start: 0, end: 1 }, 'exr')).values();
    writeFileSync(join(place, 'a.exr'), exr ?? '');
    const own = JSON.parse(execFileSync('exiftool', ['-j', '-n', '-a', join(place, 'a.exr')], { encoding: 'utf8' }))[0];
    expect(own.FramesPerSecond).toBeCloseTo(24000 / 1001, 5);
    expect(String(own.TimeCode)).toMatch(/14:22:33:04|337785604/);
    expect(own.ReelName).toBe('A003C012_261125_R7QK.mov');
  });
});
