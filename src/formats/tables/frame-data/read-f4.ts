import type { ClipNote } from '../../../core/material/day.ts';
import type { ReadingProblem } from '../../../core/material/finding.ts';
import type { FrameTrack, Statement, TrackField } from '../../../core/material/statement.ts';
import { makeStatement } from '../../values/field.ts';
import { tidy } from '../../values/number.ts';
import { folderOf, stemOfSidecar } from '../../sidecars/stem.ts';
import { tableProblem } from '../table-problem.ts';
import type { LabelJump } from './continuity.ts';
import { findJumps } from './continuity.ts';

/** One packet of a tracking stream, its blocks by their identifier. */
interface Packet {
  readonly start: number;
  readonly blocks: ReadonlyMap<number, number>;
  readonly view: DataView;
}

const PACKET_MARK = 0xf4;
const BLOCK = { tilt: 0x02, roll: 0x13, inverseFocus: 0x57, timecode: 0xf8 } as const;
/** Labels a second by the rate code of a timecode block. There is no drop-frame flag, and 24 may stand for 23.976. */
const BASES = [24, 25, 30] as const;

/** Whether bytes begin with a whole, sound tracking packet. */
export function isF4(bytes: Uint8Array): boolean {
  return packetAt(bytes, 0) !== undefined;
}

/**
 * A recorded camera tracking stream: packets of five-byte blocks with a checksum, one a frame. Read are timecode, tilt, roll and
 * focus distance; positions and encoder values have no stated unit and are left. Layout worked out from a real recording.
 */
export function readF4(bytes: Uint8Array, file: string): { readonly note: ClipNote; readonly problems: readonly ReadingProblem[] } {
  const { packets, damaged } = readPackets(bytes);
  const labels = packets.flatMap((packet) => labelOf(packet));
  const [jump] = findJumps(labels.map(({ label, start }) => ({ line: start, label })), labels[0]?.base);
  const problems = [...damagedProblem(file, damaged), ...jumpProblem(file, jump)];
  const stem = stemOfSidecar(file).replace(/ \d\d-\d\d-\d\d-\d\d$/, '');
  const statements = statementsOf(file, packets, labels);
  return { note: { kind: 'report', file, place: '', folder: folderOf(file), stem, statements, tracks: tracksOf(file, packets) }, problems };
}

function damagedProblem(file: string, start: number | undefined): readonly ReadingProblem[] {
  if (start === undefined) return [];
  return [tableProblem(file, `byte ${start}`, 'bytes that are no sound packet', 'packets with a right checksum', 'The sound packets are read. Record or copy the stream again.')];
}

function jumpProblem(file: string, jump: LabelJump | undefined): readonly ReadingProblem[] {
  if (jump === undefined) return [];
  const remedy = 'Packets are missing. Do not line passes up by this stream.';
  return [tableProblem(file, `byte ${jump.to.line}`, `${jump.to.label} after ${jump.from.label}`, 'the next frame', remedy, 'warn', 'frame-gap')];
}

interface PacketLabel {
  readonly start: number;
  readonly label: string;
  readonly base: number;
}

function readPackets(bytes: Uint8Array): { readonly packets: readonly Packet[]; readonly damaged: number | undefined } {
  const packets: Packet[] = [];
  let damaged: number | undefined;
  for (let at = 0; at < bytes.length; ) {
    const packet = packetAt(bytes, at);
    if (packet === undefined) {
      damaged ??= at;
      const next = bytes.indexOf(PACKET_MARK, at + 1);
      at = next === -1 ? bytes.length : next;
    } else {
      packets.push(packet);
      at += packet.view.byteLength;
    }
  }
  return { packets, damaged };
}

/** Mark, camera, number of blocks, status, blocks of five bytes, and a checksum: 0x40 less the sum of all bytes before. */
function packetAt(bytes: Uint8Array, start: number): Packet | undefined {
  if (bytes[start] !== PACKET_MARK) return undefined;
  const count = bytes[start + 2] ?? 0;
  const length = 5 * count + 5;
  if (start + length > bytes.length) return undefined;
  let sum = 0;
  for (let at = start; at < start + length - 1; at += 1) sum += bytes[at] ?? 0;
  if (((0x40 - sum) & 0xff) !== bytes[start + length - 1]) return undefined;
  const view = new DataView(bytes.buffer, bytes.byteOffset + start, length);
  const blocks = new Map<number, number>();
  for (let block = 0; block < count; block += 1) blocks.set(view.getUint8(4 + 5 * block), 5 + 5 * block);
  return { start, blocks, view };
}

/** Rate code in bits 5 and 6 of the status; hours, minutes, seconds, frames packed in five and three times six bits. */
function labelOf({ start, blocks, view }: Packet): readonly PacketLabel[] {
  const at = blocks.get(BLOCK.timecode);
  if (at === undefined) return [];
  const base = BASES[(view.getUint8(at) >> 5) & 3];
  const packed = view.getUint32(at) & 0x00ff_ffff;
  const parts = [packed >> 18, (packed >> 12) & 63, (packed >> 6) & 63, packed & 63];
  return base === undefined ? [] : [{ start, base, label: parts.map((part) => String(part).padStart(2, '0')).join(':') }];
}

/** Signed 24 bits in thousandths of a degree, behind one status byte. */
function degrees({ blocks, view }: Packet, block: number): number {
  const at = blocks.get(block);
  return at === undefined ? Number.NaN : tidy(((view.getInt32(at) << 8) >> 8) / 1000);
}

/** A 32-bit float of one over the distance in metres; 0 is infinity. */
function focusDistance({ blocks, view }: Packet): number {
  const at = blocks.get(BLOCK.inverseFocus);
  const inverse = at === undefined ? Number.NaN : view.getFloat32(at);
  return inverse === 0 ? Infinity : inverse > 0 ? tidy(1 / inverse) : Number.NaN;
}

function statementsOf(file: string, packets: readonly Packet[], labels: readonly PacketLabel[]): readonly Statement[] {
  const at = (start: number, what: string): Statement['source'] => ({ kind: 'report', file, place: `byte ${start}, ${what}` });
  const [first] = labels;
  const last = labels.at(-1);
  const statements = [makeStatement('frames', packets.length, `${packets.length} packets`, at(0, 'packets'))];
  if (first === undefined || last === undefined) return statements;
  statements.push(makeStatement('tcIn', first.label, first.label, at(first.start, 'timecode')), makeStatement('tcOut', last.label, last.label, at(last.start, 'timecode')));
  // 24 and 30 labels a second may be 23.976 and 29.97 frames; 25 is 25.
  if (first.base === 25) statements.push(makeStatement('timecodeRate', { num: 25, den: 1 }, '25', at(first.start, 'timecode')));
  return statements;
}

function tracksOf(file: string, packets: readonly Packet[]): readonly FrameTrack[] {
  const columns: readonly (readonly [TrackField, readonly number[]])[] = [
    ['focusDistance', packets.map(focusDistance)],
    ['tilt', packets.map((packet) => degrees(packet, BLOCK.tilt))],
    ['rollAngle', packets.map((packet) => degrees(packet, BLOCK.roll))],
  ];
  const spoken = columns.filter(([, values]) => values.some((value) => !Number.isNaN(value)));
  return spoken.length === 0 ? [] : [{ source: { kind: 'report', file, place: 'packets' }, frames: packets.length, values: Object.fromEntries(spoken), stopKind: 'unknown' }];
}
