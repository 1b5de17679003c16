import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { deflateSync } from 'node:zlib';
import { HEIGHT, WIDTH } from './scene.ts';

const BITEXACT = ['-fflags', '+bitexact', '-flags:v', '+bitexact', '-threads', '1'];

const MOVIE_CODECS: Record<'mov' | 'mp4' | 'mxf-op1a' | 'mxf-opatom', readonly string[]> = {
  mov: ['-c:v', 'libx264', '-preset', 'slow', '-crf', '30', '-pix_fmt', 'yuv420p', '-f', 'mov', '-movflags', 'use_metadata_tags'],
  mp4: ['-c:v', 'libx264', '-preset', 'slow', '-crf', '30', '-pix_fmt', 'yuv420p', '-f', 'mp4'],
  'mxf-op1a': ['-c:v', 'mpeg2video', '-q:v', '12', '-g', '12', '-pix_fmt', 'yuv420p', '-f', 'mxf'],
  'mxf-opatom': ['-c:v', 'dnxhd', '-profile:v', 'dnxhr_lb', '-pix_fmt', 'yuv422p', '-f', 'mxf_opatom'],
};

export interface MovieWish {
  readonly format: 'mov' | 'mp4' | 'mxf-op1a' | 'mxf-opatom';
  /** How many times larger than `WIDTH` x `HEIGHT` the frames are; larger ones are coded with less loss, for they are looked at. */
  readonly times: 1 | 2;
  readonly fps: number;
  readonly start: string;
  readonly tags: Readonly<Record<string, string>>;
}

/** Writes one movie from 8-bit RGB frames. */
export function writeMovie(ffmpeg: string, path: string, frames: readonly Uint8Array[], wish: MovieWish): void {
  const tags = Object.entries(wish.tags).flatMap(([key, value]) => ['-metadata', `${key}=${value}`]);
  run(ffmpeg, [...rawInput(wish.fps, wish.times), ...MOVIE_CODECS[wish.format], ...(wish.times === 1 ? [] : ['-crf', '24']), ...BITEXACT, '-timecode', wish.start, ...tags, path], Buffer.concat(frames));
}

/** Writes one still picture (`.png`, `.tif`) from an 8-bit RGB frame. */
export function writeStill(ffmpeg: string, path: string, frame: Uint8Array): void {
  const coding = path.endsWith('.png') ? ['-c:v', 'png', '-compression_level', '100', '-pred', 'mixed'] : ['-c:v', 'tiff', '-compression_algo', 'deflate'];
  run(ffmpeg, [...rawInput(24), ...coding, ...BITEXACT, '-frames:v', '1', '-f', 'image2', '-update', '1', path], Buffer.from(frame));
}

function rawInput(fps: number, times = 1): readonly string[] {
  return ['-v', 'error', '-y', '-f', 'rawvideo', '-pix_fmt', 'rgb24', '-s', `${WIDTH * times}x${HEIGHT * times}`, '-r', String(fps), '-i', 'pipe:0'];
}

function run(program: string, args: readonly string[], input: Buffer): void {
  const done = spawnSync(program, [...args], { input, maxBuffer: 1 << 24 });
  if (done.error !== undefined) throw done.error;
  if (done.status !== 0) throw new Error(`${program} ended with ${done.status}: ${done.stderr.toString()}`);
}

/** Header facts of one EXR picture, in the units of the OpenEXR standard attributes. */
export interface ExrFacts {
  readonly timecodeBcd: number;
  readonly framesPerSecond: readonly [number, number];
  readonly captureRate: readonly [number, number];
  readonly focalLengthMm: number;
  readonly focusM: number;
  readonly tStop: number;
  readonly shutterDeg: number;
  readonly iso: number;
  readonly kelvin: number;
  readonly lens: string;
  readonly serial: string;
  readonly reel: string;
}

/** Writes an OpenEXR picture: half floats, ZIP compression, with the standard lens and time attributes (OpenEXR file layout, version 2). */
export function writeExr(path: string, frame: Uint8Array, facts: ExrFacts): void {
  const header = Buffer.concat([
    attribute('channels', 'chlist', Buffer.concat([...['B', 'G', 'R'].map(channel), Buffer.from([0])])),
    attribute('compression', 'compression', Buffer.from([3])),
    attribute('dataWindow', 'box2i', ints(0, 0, WIDTH - 1, HEIGHT - 1)),
    attribute('displayWindow', 'box2i', ints(0, 0, WIDTH - 1, HEIGHT - 1)),
    attribute('lineOrder', 'lineOrder', Buffer.from([0])),
    attribute('pixelAspectRatio', 'float', floats(1)),
    attribute('screenWindowCenter', 'v2f', floats(0, 0)),
    attribute('screenWindowWidth', 'float', floats(1)),
    attribute('timeCode', 'timecode', ints(facts.timecodeBcd, 0)),
    attribute('framesPerSecond', 'rational', ints(...facts.framesPerSecond)),
    attribute('captureRate', 'rational', ints(...facts.captureRate)),
    attribute('nominalFocalLength', 'float', floats(facts.focalLengthMm)),
    attribute('focus', 'float', floats(facts.focusM)),
    attribute('tStop', 'float', floats(facts.tStop)),
    attribute('shutterAngle', 'float', floats(facts.shutterDeg)),
    attribute('isoSpeed', 'float', floats(facts.iso)),
    attribute('cameraCCTSetting', 'float', floats(facts.kelvin)),
    attribute('lensModel', 'string', Buffer.from(facts.lens)),
    attribute('lensSerialNumber', 'string', Buffer.from(facts.serial)),
    attribute('reelName', 'string', Buffer.from(facts.reel)),
    Buffer.from([0]),
  ]);
  const magic = Buffer.from([0x76, 0x2f, 0x31, 0x01, 2, 0, 0, 0]);
  const blocks: Buffer[] = [];
  for (let y = 0; y < HEIGHT; y += 16) blocks.push(exrBlock(frame, y, Math.min(16, HEIGHT - y)));
  const table = Buffer.alloc(blocks.length * 8);
  let at = magic.length + header.length + table.length;
  blocks.forEach((block, index) => {
    table.writeBigUInt64LE(BigInt(at), index * 8);
    at += block.length;
  });
  writeFileSync(path, Buffer.concat([magic, header, table, ...blocks]));
}

/** One ZIP block of up to 16 lines: bytes split into even and odd, then differences, then deflate. */
function exrBlock(frame: Uint8Array, firstLine: number, lines: number): Buffer {
  const raw = Buffer.alloc(lines * WIDTH * 6);
  let at = 0;
  for (let y = firstLine; y < firstLine + lines; y += 1) {
    for (const component of [2, 1, 0]) {
      for (let x = 0; x < WIDTH; x += 1) {
        raw.writeUInt16LE(half(((frame[(y * WIDTH + x) * 3 + component] ?? 0) / 255) ** 2.2), at);
        at += 2;
      }
    }
  }
  const split = Buffer.alloc(raw.length);
  const middle = Math.ceil(raw.length / 2);
  for (let i = 0; i < raw.length; i += 1) split[(i % 2 === 0 ? 0 : middle) + (i >> 1)] = raw[i] ?? 0;
  const coded = Buffer.from(split);
  for (let i = coded.length - 1; i > 0; i -= 1) coded[i] = ((split[i] ?? 0) - (split[i - 1] ?? 0) + 384) & 0xff;
  const packed = deflateSync(coded, { level: 9 });
  const payload = packed.length < raw.length ? packed : raw;
  return Buffer.concat([ints(firstLine, payload.length), payload]);
}

/** A number from 0 to 1 as a half float, rounded down to 6 bits of mantissa so that flat areas pack well. */
function half(value: number): number {
  if (value <= 0) return 0;
  const exponent = Math.max(-14, Math.floor(Math.log2(value)));
  const mantissa = Math.floor((value / 2 ** exponent - 1) * 64) << 4;
  return ((exponent + 15) << 10) | Math.max(0, mantissa);
}

function attribute(name: string, type: string, value: Buffer): Buffer {
  return Buffer.concat([Buffer.from(`${name}\0${type}\0`), ints(value.length), value]);
}

function channel(name: string): Buffer {
  return Buffer.concat([Buffer.from(`${name}\0`), ints(1), Buffer.from([0, 0, 0, 0]), ints(1, 1)]);
}

function ints(...values: readonly number[]): Buffer {
  const bytes = Buffer.alloc(values.length * 4);
  values.forEach((value, index) => bytes.writeInt32LE(value | 0, index * 4));
  return bytes;
}

function floats(...values: readonly number[]): Buffer {
  const bytes = Buffer.alloc(values.length * 4);
  values.forEach((value, index) => bytes.writeFloatLE(value, index * 4));
  return bytes;
}

/** Header facts of one DPX picture (SMPTE ST 268-1 fields). */
export interface DpxFacts {
  readonly timecodeBcd: number;
  readonly fps: number;
  readonly shutterDeg: number;
  readonly slate: string;
}

/** Writes a DPX picture: big-endian, 10 bit RGB filled to 32, with film and television headers. */
export function writeDpx(path: string, frame: Uint8Array, facts: DpxFacts): void {
  const bytes = Buffer.alloc(2048 + WIDTH * HEIGHT * 4);
  bytes.write('SDPX', 0, 'latin1');
  bytes.writeUInt32BE(2048, 4);
  bytes.write('V2.0\0', 8, 'latin1');
  bytes.writeUInt32BE(bytes.length, 16);
  bytes.writeUInt32BE(1, 20);
  bytes.writeUInt32BE(1664, 24);
  bytes.writeUInt32BE(384, 28);
  bytes.writeUInt32BE(0xffffffff, 660);
  bytes.writeUInt16BE(0, 768);
  bytes.writeUInt16BE(1, 770);
  bytes.writeUInt32BE(WIDTH, 772);
  bytes.writeUInt32BE(HEIGHT, 776);
  bytes.writeUInt8(50, 800);
  bytes.writeUInt8(2, 801);
  bytes.writeUInt8(2, 802);
  bytes.writeUInt8(10, 803);
  bytes.writeUInt16BE(1, 804);
  bytes.writeUInt32BE(2048, 808);
  bytes.fill(0xff, 1712, 1724);
  bytes.writeFloatBE(facts.fps, 1724);
  bytes.writeFloatBE(facts.shutterDeg, 1728);
  bytes.write(facts.slate, 1764, 99, 'latin1');
  bytes.writeUInt32BE(facts.timecodeBcd >>> 0, 1920);
  bytes.fill(0xff, 1924, 1940);
  bytes.writeFloatBE(facts.fps, 1940);
  bytes.fill(0xff, 1944, 1976);
  for (let i = 0; i < WIDTH * HEIGHT; i += 1) {
    const [r, g, b] = [0, 1, 2].map((c) => ((frame[i * 3 + c] ?? 0) * 1023) / 255 | 0);
    bytes.writeUInt32BE((((r ?? 0) << 22) | ((g ?? 0) << 12) | ((b ?? 0) << 2)) >>> 0, 2048 + i * 4);
  }
  writeFileSync(path, bytes);
}
