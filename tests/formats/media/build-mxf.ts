import { be16, be32, be64, bytes, fromHex, zeros } from './build.ts';

/** One key-length-value packet (ST 336), its length in four bytes. */
export function klv(key: string, ...value: readonly (number | string | Uint8Array)[]): Uint8Array {
  const body = bytes(...value);
  return bytes(fromHex(key), 0x83, (body.length >> 16) & 0xff, (body.length >> 8) & 0xff, body.length & 0xff, body);
}

export interface TimecodeTrackToBuild {
  readonly start: number;
  readonly base: number;
  readonly drop?: boolean;
  /** Edit rate of the timecode track; that of the picture when absent. */
  readonly rate?: readonly [number, number];
}

export interface MxfToBuild {
  readonly rate?: readonly [num: number, den: number];
  readonly frames?: number | 'unknown';
  readonly material?: TimecodeTrackToBuild;
  readonly file?: TimecodeTrackToBuild;
  readonly tape?: TimecodeTrackToBuild;
  readonly reel?: string;
  readonly clipName?: string;
  /** Start position of the material package's clip in the file package, and of the file package's in the tape. */
  readonly positions?: readonly [inFile: number, inTape: number];
  readonly coding?: string;
  readonly pattern?: string;
  readonly frameLayout?: number;
  readonly size?: readonly [width: number, storedHeight: number, displayHeight: number];
  readonly descriptorRate?: readonly [number, number];
  readonly containerDuration?: number;
  readonly header?: { readonly status?: number; readonly footer?: 'stated' | 'unknown' };
  readonly runIn?: Uint8Array;
  readonly index?: boolean;
  /** Sets added to the header metadata, as keys and items. */
  readonly sets?: readonly Uint8Array[];
  readonly primer?: readonly (readonly [tag: number, label: string])[];
  /** The footer repeats the metadata, with the length filled in. */
  readonly footerFrames?: number;
  /** Whether the material package's clip names its own package: a loop. */
  readonly loop?: boolean;
}

const STRUCTURAL = '060e2b34 02530101 0d010101 0101';
export const PICTURE_CODING = '060e2b34 0401010a 04010202 71130000';
const PICTURE = fromHex('060e2b34 04010101 01030202 01000000');
const TIMECODE = fromHex('060e2b34 04010101 01030201 01000000');
const ESSENCE_CONTAINER = '060e2b34 0401010a 0d010301 02110100';
const OP1A = '060e2b34 04010101 0d010201 01010900';

const id = (number: number): Uint8Array => bytes(zeros(12), be32(number));
const umid = (number: number): Uint8Array => bytes(fromHex('060a2b34 01010105 01010d00 13000000'), zeros(12), be32(number));
const item = (tag: number, value: Uint8Array): Uint8Array => bytes(be16(tag), be16(value.length), value);
const batch = (...ids: readonly Uint8Array[]): Uint8Array => bytes(be32(ids.length), be32(16), ...ids);
const rational = ([num, den]: readonly [number, number]): Uint8Array => bytes(be32(num), be32(den));
const utf16 = (text: string): Uint8Array => bytes(...Array.from(text, (letter) => be16(letter.charCodeAt(0))), be16(0));

/** A metadata set by its kind byte; `number` is its instance id. */
export function metadataSet(kind: string, number: number, ...items: readonly (readonly [tag: number, value: Uint8Array])[]): Uint8Array {
  return klv(`${STRUCTURAL} ${kind}00`, item(0x3c0a, id(number)), ...items.map(([tag, value]) => item(tag, value)));
}

/** A comment as AAF writes it: name, and a value that brings its type along. */
export function comment(number: number, name: string, text: string): Uint8Array {
  return metadataSet('3f', number, [0x5001, utf16(name)], [0x5003, bytes(0x42, zeros(16), utf16(text))]);
}

/** A whole MXF file: header partition with metadata, a body of 4096 bytes, footer, random index. Laid out as ST 377-1 says. */
export function mxf(wish: MxfToBuild = {}): Uint8Array {
  const { runIn = zeros(0), index = true, header = {} } = wish;
  const metadata = headerMetadata(wish, wish.frames ?? 48);
  const body = klv('060e2b34 01020101 0d010301 15010600', zeros(4096));
  const packLength = pack('02', 4, { self: 0, footer: 0, headerBytes: 0, wish }).length;
  const footerAt = packLength + metadata.length + body.length;
  const stated = header.footer === 'unknown' ? 0 : footerAt;
  const repeated = wish.footerFrames === undefined ? zeros(0) : headerMetadata(wish, wish.footerFrames);
  const footer = bytes(pack('04', 4, { self: footerAt, footer: footerAt, headerBytes: repeated.length, wish }), repeated);
  const first = pack('02', header.status ?? 4, { self: 0, footer: stated, headerBytes: metadata.length, wish });
  return bytes(runIn, first, metadata, body, footer, index ? randomIndex(footerAt) : '');
}

/** The same, broken off while it was being recorded: no footer, and the header does not know of one. */
export function openMxf(wish: MxfToBuild = {}): Uint8Array {
  const whole = mxf({ ...wish, header: { status: 1, footer: 'unknown' }, frames: 'unknown', index: false });
  return whole.subarray(0, whole.length - pack('04', 4, { self: 0, footer: 0, headerBytes: 0, wish }).length);
}

interface PackFacts {
  readonly self: number;
  readonly footer: number;
  readonly headerBytes: number;
  readonly wish: MxfToBuild;
}

function pack(kind: string, status: number, { self, footer, headerBytes, wish }: PackFacts): Uint8Array {
  const labels = bytes(be32(1), be32(16), fromHex(ESSENCE_CONTAINER));
  const numbers = bytes(be16(1), be16(3), be32(1), be64(self), be64(0), be64(footer), be64(headerBytes), be64(0), be32(0), be64(0), be32(0));
  return klv(`060e2b34 02050101 0d010201 01${kind}0${status}00`, numbers, fromHex(wish.pattern ?? OP1A), labels);
}

function randomIndex(footerAt: number): Uint8Array {
  const entries = bytes(be32(0), be64(0), be32(0), be64(footerAt));
  const length = 16 + 4 + entries.length + 4;
  return klv('060e2b34 02050101 0d010201 01110100', entries, be32(length));
}

function headerMetadata(wish: MxfToBuild, frames: number | 'unknown'): Uint8Array {
  const { rate = [24_000, 1001], positions = [0, 0], primer = [] } = wish;
  const length = be64(frames === 'unknown' ? -1 : frames);
  const tags = klv('060e2b34 02050101 0d010201 01050100', be32(primer.length), be32(18), ...primer.flatMap(([tag, label]) => [be16(tag), fromHex(label)]));
  const fileHasTape = wish.tape !== undefined || wish.reel !== undefined;
  return bytes(
    tags,
    ...packageSets({ number: 100, kind: '36', length, rate, clock: wish.material, name: wish.clipName, source: wish.loop === true ? umid(100) : umid(200), position: positions[0] }),
    ...packageSets({ number: 200, kind: '37', length, rate, clock: wish.file, name: undefined, source: fileHasTape ? umid(300) : zeros(32), position: positions[1], descriptor: 290 }),
    descriptor(wish, rate),
    ...(fileHasTape ? [...packageSets({ number: 300, kind: '37', length, rate, clock: wish.tape, name: wish.reel, source: zeros(32), position: 0, descriptor: 390 }), metadataSet('2e', 390)] : []),
    ...(wish.sets ?? []),
  );
}

interface PackageToBuild {
  readonly number: number;
  readonly kind: string;
  readonly length: Uint8Array;
  readonly rate: readonly [number, number];
  readonly clock: TimecodeTrackToBuild | undefined;
  readonly name: string | undefined;
  readonly source: Uint8Array;
  readonly position: number;
  readonly descriptor?: number;
}

function packageSets({ number, kind, length, rate, clock, name, source, position, descriptor: described }: PackageToBuild): Uint8Array[] {
  const clockSets = clock === undefined ? [] : [
    metadataSet('3b', number + 1, [0x4801, be32(1)], [0x4b01, rational(clock.rate ?? rate)], [0x4803, id(number + 2)]),
    metadataSet('0f', number + 2, [0x0201, TIMECODE], [0x0202, length], [0x1001, batch(id(number + 3))]),
    metadataSet('14', number + 3, [0x0201, TIMECODE], [0x0202, length], [0x1501, be64(clock.start)], [0x1502, be16(clock.base)], [0x1503, bytes(clock.drop === true ? 1 : 0)]),
  ];
  const tracks = clock === undefined ? [id(number + 4)] : [id(number + 1), id(number + 4)];
  return [
    metadataSet(kind, number, [0x4401, umid(number)], [0x4403, batch(...tracks)], ...(name === undefined ? [] : [[0x4402, utf16(name)] as const]), ...(described === undefined ? [] : [[0x4701, id(described)] as const])),
    ...clockSets,
    metadataSet('3b', number + 4, [0x4801, be32(2)], [0x4b01, rational(rate)], [0x4803, id(number + 5)]),
    metadataSet('0f', number + 5, [0x0201, PICTURE], [0x0202, length], [0x1001, batch(id(number + 6))]),
    metadataSet('11', number + 6, [0x0201, PICTURE], [0x0202, length], [0x1201, be64(position)], [0x1101, source], [0x1102, be32(2)]),
  ];
}

function descriptor(wish: MxfToBuild, rate: readonly [number, number]): Uint8Array {
  const [width, stored, display] = wish.size ?? [1920, 1088, 1080];
  return metadataSet(
    '28', 290,
    [0x3001, rational(wish.descriptorRate ?? rate)], [0x3004, fromHex(ESSENCE_CONTAINER)], [0x3201, fromHex(wish.coding ?? PICTURE_CODING)],
    [0x3203, be32(width)], [0x3202, be32(stored)], [0x3209, be32(width)], [0x3208, be32(display)], [0x320c, bytes(wish.frameLayout ?? 0)],
    ...(wish.containerDuration === undefined ? [] : [[0x3002, be64(wish.containerDuration)] as const]),
  );
}
