import type { Encoding } from '../../core/picture/exposure/encoding.ts';
import type { ColourFrame, LumaFrame } from '../../core/picture/frame.ts';
import { frameFromSixteenBit } from '../../core/picture/frame.ts';
import type { ClipFrames } from '../../core/picture/measure/clip-frames.ts';
import { BT709, tooSmall } from '../../core/picture/measure/clip-frames.ts';
import { followCamera } from '../../core/picture/motion/follow-camera.ts';
import { watchFrames } from '../../core/picture/stream/watch-frames.ts';
import { SOUND_RATE } from '../../core/picture/sync/signal.ts';
import type { PictureClip } from '../../ports.ts';
import { lastWords } from './media-url.ts';
import type { ProxyInputs, ProxySize } from './plan-proxies.ts';
import { openProxies, proxyArgs, proxySize } from './plan-proxies.ts';
import type { ProxyFacts } from './proxy-facts.ts';
import { proxyFacts } from './proxy-facts.ts';
import { ProxyFile } from './proxy-file.ts';
import { streamProxies } from './proxy-stream.ts';

/** The programs proxies are decoded with. */
export interface ProxyTools {
  readonly ffmpeg: string;
  readonly ffprobe: string;
  readonly stallMs?: number;
}

/** Ten minutes at 24 frames a second: what comes after is not looked at. */
const MOST_FRAMES = 14_400;
/** A camera that should stand still is looked at this often along a clip. */
const LOOKS = 32;
const COLOUR_FRAMES = 3;
const STALL_MS = 60_000;

/** The proxies of one clip, which `Symbol.dispose` lets go. */
export interface DecodedClip extends ClipFrames, Disposable {}

/**
 * Decodes a clip once: its luma to a file of proxies, measured on the way for what one frame after the other tells; a few frames in
 * colour and the sound to memory. @throws {Error} whose message says why nothing could be decoded.
 */
export async function decodeProxies(clip: PictureClip, tools: ProxyTools, signal: AbortSignal): Promise<DecodedClip> {
  const opened = openProxies(clip.at);
  const facts = await proxyFacts(tools.ffprobe, clip, opened.firstImage, signal);
  const small = tooSmall(facts.raster);
  if (small !== undefined) throw new Error(small);
  const size = proxySize(facts);
  const file = new ProxyFile(size.width * size.height * 2);
  try {
    return await decodeInto(file, clip, { opened, facts, size }, tools, signal);
  } catch (failure) {
    file[Symbol.dispose]();
    throw failure;
  }
}

interface Prepared {
  readonly opened: ProxyInputs;
  readonly facts: ProxyFacts;
  readonly size: ProxySize;
}

async function decodeInto(file: ProxyFile, clip: PictureClip, { opened, facts, size }: Prepared, tools: ProxyTools, signal: AbortSignal): Promise<DecodedClip> {
  const expected = Math.min(MOST_FRAMES, opened.numbers?.length ?? clip.frames ?? 24);
  const colourAt = spreadOver(expected, COLOUR_FRAMES);
  const everyFrames = clip.everyFrame ? 1 : Math.max(1, Math.ceil(expected / LOOKS));
  const encoding = encodingOf(facts, clip);
  const [follower, watcher] = [followCamera(), watchFrames(encoding)];
  const colour: ColourFrame[] = [];
  const sound: Uint8Array[] = [];
  // By turns, since the watcher holds each frame against the one before.
  const pixels = size.width * size.height;
  const [even, odd] = [new Float32Array(pixels), new Float32Array(pixels)];
  const sink = {
    luma: (bytes: Uint8Array): void => {
      file.append(bytes);
      const frame = frameFromSixteenBit(size.width, size.height, new Uint16Array(bytes.buffer, 0, bytes.length / 2), file.frames % 2 === 0 ? even : odd);
      if ((file.frames - 1) % everyFrames === 0) follower.push(frame);
      watcher.push(frame);
    },
    colour: (bytes: Uint8Array): void => void colour.push(colourFrame(size, new Uint16Array(bytes.buffer, 0, bytes.length / 2))),
    sound: (piece: Uint8Array): void => void sound.push(piece.slice()),
  };
  const args = proxyArgs(opened, { size, colour: colourAt, hasSound: facts.hasSound, mostFrames: MOST_FRAMES, soundRate: SOUND_RATE });
  const end = await streamProxies(tools.ffmpeg, args, sink, { lumaBytes: 2 * pixels, colourBytes: 6 * pixels, stallMs: tools.stallMs ?? STALL_MS, signal });
  if (end.stalled) throw new Error('ffmpeg stalled and was stopped');
  if (file.frames === 0) throw new Error(`ffmpeg decoded no picture: ${lastWords(end.said, clip.at.path)}`);
  const numbers = Array.from({ length: file.frames }, (_, index) => opened.numbers?.[index] ?? index);
  const places = new Map(numbers.map((number, index) => [number, index]));
  const frameInto = (number: number, into: Float32Array): LumaFrame => frameFromSixteenBit(size.width, size.height, file.read(places.get(number) ?? -1), into);
  return {
    raster: facts.raster, proxy: size, numbers, encoding, everyFrames,
    frame: (number) => frameInto(number, new Float32Array(pixels)),
    frameInto,
    colour: new Map(colour.flatMap((frame, index) => { const at = numbers[colourAt[index] ?? -1]; return at === undefined ? [] : [[at, frame] as const]; })),
    sound: facts.hasSound ? samplesOf(sound) : undefined,
    faults: watcher.finish(),
    motion: follower.finish(),
    [Symbol.dispose]: () => file[Symbol.dispose](),
  };
}

/** Up to `count` places of a run, the first and the last among them, ascending. */
function spreadOver(length: number, count: number): readonly number[] {
  const some = Math.max(1, Math.min(length, count));
  return Array.from({ length: some }, (_, i) => (some === 1 ? 0 : Math.round((i * (length - 1)) / (some - 1))));
}

function colourFrame({ width, height }: ProxySize, samples: Uint16Array): ColourFrame {
  const plane = (channel: 0 | 1 | 2): Float32Array => {
    const values = new Float32Array(width * height);
    for (let at = 0; at < values.length; at++) values[at] = (samples[3 * at + channel] ?? 0) / 257;
    return values;
  };
  return { width, height, red: plane(0), green: plane(1), blue: plane(2) };
}

function samplesOf(pieces: readonly Uint8Array[]): Float32Array {
  const bytes = new Uint8Array(pieces.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const piece of pieces) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return new Float32Array(bytes.buffer, 0, Math.floor(bytes.length / 4));
}

/** EXR is linear light by its standard; what nobody tags is taken for a display curve. */
function encodingOf({ transfer }: ProxyFacts, { at }: PictureClip): Encoding {
  return transfer === 'linear' || /\.exr$/i.test(at.path) ? { kind: 'linear' } : BT709;
}
