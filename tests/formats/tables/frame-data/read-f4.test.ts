import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { facts, readBytes } from '../read.ts';

/** A block: identifier, then four bytes. */
type Block = readonly [id: number, bytes: readonly [number, number, number, number]];

/** One packet as a tracking system writes it; the checksum makes all bytes add up to 0x40. */
function packet(blocks: readonly Block[]): readonly number[] {
  const bytes = [0xf4, 1, blocks.length, 0x10, ...blocks.flatMap(([id, four]) => [id, ...four])];
  const sum = bytes.reduce((total, byte) => total + byte, 0);
  return [...bytes, (0x40 - sum) & 0xff];
}

function timecode(base: 0 | 1 | 2, [hours, minutes, seconds, frames]: readonly [number, number, number, number]): Block {
  const packed = (hours << 18) | (minutes << 12) | (seconds << 6) | frames;
  return [0xf8, [base << 5, (packed >> 16) & 255, (packed >> 8) & 255, packed & 255]];
}

function thousandths(id: number, degrees: number): Block {
  const value = Math.round(degrees * 1000) & 0xff_ffff;
  return [id, [0, (value >> 16) & 255, (value >> 8) & 255, value & 255]];
}

function float(id: number, value: number): Block {
  const view = new DataView(new ArrayBuffer(4));
  view.setFloat32(0, value);
  return [id, [view.getUint8(0), view.getUint8(1), view.getUint8(2), view.getUint8(3)]];
}

const frame = (at: number, base: 0 | 1 | 2 = 1): readonly number[] =>
  packet([thousandths(0x01, 12.5), thousandths(0x02, -28.072 + at), thousandths(0x13, 3.096), float(0x57, at === 2 ? 0 : 0.5), timecode(base, [15, 3, 47, 22 + at])]);

describe('a recorded tracking stream', () => {
  it('is read for timecode, tilt, roll and focus', () => {
    const { kind, notes, problems } = readBytes(new Uint8Array([0, 1, 2].flatMap((at) => [...frame(at)])), 'track/A003_C001_01 15-03-47-22.f4');
    expect({ kind, problems }).toEqual({ kind: 'frame-data', problems: [] });
    expect(notes[0]?.stem).toBe('A003_C001_01');
    expect(facts(notes[0]?.statements ?? [])).toEqual({ tcIn: '15:03:47:22', tcOut: '15:03:47:24', timecodeRate: { num: 25, den: 1 }, frames: 3 });
    expect(notes[0]?.tracks).toEqual([{
      source: { kind: 'report', file: 'track/A003_C001_01 15-03-47-22.f4', place: 'packets' }, frames: 3, stopKind: 'unknown',
      values: { focusDistance: [2, 2, Infinity], tilt: [-28.072, -27.072, -26.072], rollAngle: [3.096, 3.096, 3.096] },
    }]);
  });

  it('states no rate for 24 labels a second, which may be 23.976', () => {
    expect(facts(readBytes(new Uint8Array([...frame(0, 0), ...frame(1, 0)])).notes[0]?.statements ?? [])).not.toHaveProperty('timecodeRate');
  });

  it('passes over damaged packets and names the first, and names a jump', () => {
    const damaged = [...frame(1)].map((byte, at) => (at === 9 ? byte ^ 1 : byte));
    const { notes, problems } = readBytes(new Uint8Array([...frame(0), ...damaged, ...frame(2)]));
    expect(facts(notes[0]?.statements ?? [])).toMatchObject({ frames: 2, tcIn: '15:03:47:22', tcOut: '15:03:47:24' });
    expect(problems.map(({ code, place, found }) => [code, place, found])).toEqual([
      ['unreadable-value', 'byte 30', 'bytes that are no sound packet'],
      ['frame-gap', 'byte 60', '15:03:47:24 after 15:03:47:22'],
    ]);
  });

  it('never throws, whatever follows a sound packet', () => {
    fc.assert(fc.property(fc.uint8Array({ maxLength: 100 }), (rest) => {
      expect(readBytes(new Uint8Array([...frame(0), ...rest])).kind).toBe('frame-data');
    }));
  });
});
