import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import type { FrameRate } from '../../../src/core/timecode/rate.ts';
import { framesPerDay, timecodeFormat } from '../../../src/core/timecode/timecode.ts';
import type { WrittenEvent } from '../../../src/formats/edl/format-edl.ts';
import { edlReels, formatEdl } from '../../../src/formats/edl/format-edl.ts';
import { parseEdl } from '../../../src/formats/edl/parse-edl.ts';

const COUNTS: readonly { readonly rate: FrameRate; readonly drop: boolean }[] = [
  { rate: frameRate(24), drop: false },
  { rate: frameRate(24000, 1001), drop: false },
  { rate: frameRate(25), drop: false },
  { rate: frameRate(30000, 1001), drop: false },
  { rate: frameRate(30000, 1001), drop: true },
  { rate: frameRate(60000, 1001), drop: true },
];

function pull(reel: string, start: number, length: number, at: number, more: Partial<WrittenEvent> = {}): WrittenEvent {
  return { reel, source: { start, end: start + length }, record: { start: at, end: at + length }, ...more };
}

describe('a written edit list', () => {
  it('gives back the same ranges when it is read, at every rate and way of counting', () => {
    const lengths = fc.array(fc.tuple(fc.integer({ min: 1, max: 5000 }), fc.nat(), fc.boolean()), { minLength: 1, maxLength: 30 });
    fc.assert(fc.property(lengths, fc.constantFrom(...COUNTS), (parts, { rate, drop }) => {
      const format = timecodeFormat(rate, drop);
      let at = 3600 * format.base;
      const events = parts.map(([length, source, gap], index) => {
        const event = pull(`A014C${String(index).padStart(3, '0')}_261124_K3QX`, source % framesPerDay(format), length, at);
        at += length + (gap ? 12 : 0);
        return event;
      });
      const read = parseEdl(formatEdl({ title: 'pull', format, events }), { file: 'pull.edl', rate });
      expect(read.problems).toEqual([]);
      expect(read.events.map(({ source, record }) => ({ source: source.range, record }))).toEqual(events.map(({ source, record }) => ({ source, record })));
      expect(read.events.map(({ sourceFile }) => sourceFile)).toEqual(events.map(({ reel }) => reel));
    }));
  });

  it('gives back speeds, colour values, names and notes', () => {
    const cdl = { slope: [1.1, 1, 0.9], offset: [0.01, 0, -0.01], power: [1, 1, 1.2], saturation: 0.85, from: '' } as const;
    const event = pull('A014C002', 1000, 48, 86400, { clipName: 'A014C002_261124_K3QX', sourceFile: 'A014C002_261124_K3QX.mov', speed: 0, cdl, comments: ['SMR_027_0100 lead', 'two\nlines'] });
    const [read] = parseEdl(formatEdl({ title: 'x', format: timecodeFormat(frameRate(24), false), events: [event] }), { file: 'x.edl', rate: frameRate(24) }).events;
    expect(read).toMatchObject({
      reel: 'A014C002', clipName: 'A014C002_261124_K3QX', sourceFile: 'A014C002_261124_K3QX.mov', retime: { kind: 'freeze' },
      cdl: { ...cdl, from: 'x.edl line 8' }, comments: ['SMR_027_0100 lead', 'two lines'],
    });
    expect(read?.source.range).toEqual({ start: 1000, end: 1001 });
  });

  it('ends its lines with CR LF and stands in the columns of the classic layout', () => {
    const text = formatEdl({ title: 'TWR', format: timecodeFormat(frameRate(24), false), events: [pull('A014C002', 24, 24, 86400)] });
    expect(text).toBe('TITLE: TWR\r\n\r\nFCM: NON-DROP FRAME\r\n001  A014C002 V     C        00:00:01:00 00:00:02:00 01:00:00:00 01:00:01:00\r\n');
  });

  it('never makes one reel of two, and never one that means black or no source', () => {
    const reels = edlReels(['A014C002_261124_K3QX', 'A014C002_261125_K3QX', 'a014c002_x', 'black', 'ax', '…']);
    expect(new Set(reels.values()).size).toBe(6);
    expect([...reels.values()].every((reel) => /^[A-Z0-9_]{1,8}$/.test(reel) && !['BLACK', 'AX', 'BL'].includes(reel))).toBe(true);
  });

  it('refuses a thousand events and empty ranges', () => {
    const format = timecodeFormat(frameRate(24), false);
    expect(() => formatEdl({ title: '', format, events: Array.from({ length: 1000 }, (_, index) => pull('A', 0, 1, index)) })).toThrow(RangeError);
    expect(() => formatEdl({ title: '', format, events: [pull('A', 0, 0, 0)] })).toThrow(RangeError);
  });
});
