import { be16, be32, be64, bytes, zeros } from './build.ts';

/** A box (QuickTime: atom). */
export function box(type: string, ...content: readonly (number | string | Uint8Array)[]): Uint8Array {
  const body = bytes(...content);
  return bytes(be32(body.length + 8), type, body);
}

/** A box whose size is written in 64 bits. */
export function longBox(type: string, ...content: readonly (number | string | Uint8Array)[]): Uint8Array {
  const body = bytes(...content);
  return bytes(be32(1), type, be64(body.length + 16), body);
}

export interface MovieToBuild {
  readonly brand?: string;
  readonly timescale?: number;
  /** Runs of samples and ticks; the picture track's `stts`. */
  readonly timing?: readonly (readonly [samples: number, ticks: number])[];
  readonly movieTimescale?: number;
  readonly edits?: readonly (readonly [durationTicks: number, mediaTime: number])[];
  /** First composition offset, for pictures stored out of order. */
  readonly firstOffset?: number;
  readonly size?: readonly [width: number, height: number];
  readonly codec?: string;
  readonly matrix?: readonly number[];
  readonly sampleBytes?: number;
  readonly timecode?: TimecodeToBuild;
  readonly order?: 'index-first' | 'index-last';
  readonly long?: boolean;
  /** Boxes added to `moov`, and at the top of the file. */
  readonly inIndex?: readonly Uint8Array[];
  readonly top?: readonly Uint8Array[];
}

export interface TimecodeToBuild {
  readonly frame: number;
  readonly base: number;
  readonly timescale: number;
  readonly frameTicks: number;
  readonly drop?: boolean;
  readonly counter?: boolean;
  readonly reel?: string;
  readonly samples?: number;
  readonly edits?: readonly (readonly [durationTicks: number, mediaTime: number])[];
}

const IDENTITY = [0x10000, 0, 0, 0, 0x10000, 0, 0, 0, 0x40000000];

/** A whole movie: `ftyp`, picture bytes, index. Laid out as the QuickTime File Format says, with values of its own. */
export function movie(wish: MovieToBuild = {}): Uint8Array {
  const { timing = [[24, 1000]], sampleBytes = 16, order = 'index-last', long = false, timecode } = wish;
  const samples = timing.reduce((sum, [count]) => sum + count, 0);
  const pictures = samples * sampleBytes;
  const payload = bytes(zeros(pictures), timecode === undefined ? '' : be32(timecode.frame));
  const type = box('ftyp', wish.brand ?? 'qt  ', be32(0x200), wish.brand ?? 'qt  ');
  const media = bytes(box('wide'), long ? longBox('mdat', payload) : box('mdat', payload));
  const mediaHeader = long ? 24 : 16;
  const first = (at: number): number => at + mediaHeader;
  const top = bytes(...(wish.top ?? []));
  if (order === 'index-last') return bytes(type, top, media, index(wish, samples, first(type.length + top.length), pictures));
  const length = index(wish, samples, 0, pictures).length;
  return bytes(type, top, index(wish, samples, first(type.length + top.length + length), pictures), media);
}

function index(wish: MovieToBuild, samples: number, picturesAt: number, pictureBytes: number): Uint8Array {
  const { timecode, movieTimescale = 600 } = wish;
  const header = box('mvhd', be32(0), zeros(8), be32(movieTimescale), be32(0), zeros(80));
  const clock = timecode === undefined ? [] : [timecodeTrack(timecode, picturesAt + pictureBytes)];
  return box('moov', header, pictureTrack(wish, samples, picturesAt), ...clock, ...(wish.inIndex ?? []));
}

function pictureTrack(wish: MovieToBuild, samples: number, at: number): Uint8Array {
  const { timescale = 24_000, timing = [[24, 1000]], size = [64, 36], codec = 'apcn', sampleBytes = 16, firstOffset } = wish;
  const description = box(codec, zeros(6), be16(1), zeros(16), be16(size[0]), be16(size[1]), zeros(50));
  const tables = [
    box('stsd', be32(0), be32(1), description),
    box('stts', be32(0), be32(timing.length), ...timing.flatMap(([count, ticks]) => [be32(count), be32(ticks)])),
    ...(firstOffset === undefined ? [] : [box('ctts', be32(0), be32(1), be32(samples), be32(firstOffset))]),
    box('stsc', be32(0), be32(1), be32(1), be32(samples), be32(1)),
    box('stsz', be32(0), be32(sampleBytes), be32(samples)),
    wish.long === true ? box('co64', be32(0), be32(1), be64(at)) : box('stco', be32(0), be32(1), be32(at)),
  ];
  const reference = wish.timecode === undefined ? [] : [box('tref', box('tmcd', be32(2)))];
  return track(1, 'vide', timescale, { tables, matrix: wish.matrix, edits: wish.edits, more: reference });
}

function timecodeTrack(timecode: TimecodeToBuild, at: number): Uint8Array {
  const { base, timescale, frameTicks, drop = false, counter = false, reel, samples = 1 } = timecode;
  const name = reel === undefined ? [] : [box('name', be16(reel.length), be16(0), reel)];
  const flags = (drop ? 1 : 0) | (counter ? 8 : 0);
  const description = box('tmcd', zeros(6), be16(1), zeros(4), be32(flags), be32(timescale), be32(frameTicks), base, 0, ...name);
  const tables = [
    box('stsd', be32(0), be32(1), description),
    box('stts', be32(0), be32(1), be32(samples), be32(frameTicks * 100)),
    box('stsc', be32(0), be32(1), be32(1), be32(1), be32(1)),
    box('stsz', be32(0), be32(4), be32(samples)),
    box('stco', be32(0), be32(1), be32(at)),
  ];
  return track(2, 'tmcd', timescale, { tables, matrix: undefined, edits: timecode.edits, more: [] });
}

interface TrackParts {
  readonly tables: readonly Uint8Array[];
  readonly matrix: readonly number[] | undefined;
  readonly edits: readonly (readonly [number, number])[] | undefined;
  readonly more: readonly Uint8Array[];
}

function track(id: number, handler: string, timescale: number, { tables, matrix = IDENTITY, edits, more }: TrackParts): Uint8Array {
  const header = box('tkhd', be32(0), zeros(8), be32(id), zeros(24), ...matrix.map((value) => be32(value >>> 0)), be32(0), be32(0));
  const list = edits === undefined ? [] : [box('edts', box('elst', be32(0), be32(edits.length), ...edits.flatMap(([ticks, time]) => [be32(ticks), be32(time >>> 0), be32(0x10000)])))];
  const media = box('mdia', box('mdhd', be32(0), zeros(8), be32(timescale), be32(0), zeros(4)), box('hdlr', zeros(8), handler, zeros(13)), box('minf', box('stbl', ...tables)));
  return box('trak', header, ...list, ...more, media);
}
