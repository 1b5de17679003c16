import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatRate, frameRate } from '../../../src/core/timecode/rate.ts';
import { readRate } from '../../../src/formats/values/rate.ts';
import { readsAs, refuses, saysNothing } from './reads-as.ts';

const film = frameRate(24000, 1001);

describe('a frame rate in a cell', () => {
  // Exact rates by name: SMPTE ST 12-1 (24000/1001, 30000/1001, 60000/1001) and ST 12-3 (120000/1001).
  readsAs(readRate, [
    ['23.976', { rate: film }],
    ['23.98', { rate: film }],
    ['23,976', { rate: film }],
    // Cut short instead of rounded.
    ['23.97', { rate: film }],
    ['24000/1001', { rate: film }],
    ['23976/1000', { rate: film }],
    ['24', { rate: frameRate(24) }],
    ['24.000', { rate: frameRate(24) }],
    ['24p', { rate: frameRate(24) }],
    ['24.00p', { rate: frameRate(24) }],
    ['23.98p', { rate: film }],
    ['48 fps', { rate: frameRate(48) }],
    ['48FPS', { rate: frameRate(48) }],
    ['25/1', { rate: frameRate(25) }],
    ['47.952', { rate: frameRate(48000, 1001) }],
    ['119.88', { rate: frameRate(120000, 1001) }],
    ['33.333', { rate: frameRate(33333, 1000) }],
    ['59.94 DF', { rate: frameRate(60000, 1001), dropFrame: true }],
    ['59.94DF', { rate: frameRate(60000, 1001), dropFrame: true }],
    ['29.97 NDF', { rate: frameRate(30000, 1001), dropFrame: false }],
    ['29.97 non-drop', { rate: frameRate(30000, 1001), dropFrame: false }],
    ['30000/1001 DF', { rate: frameRate(30000, 1001), dropFrame: true }],
  ]);
  saysNothing(readRate, ['', '--', 'n.a.', '0', '0/0', '0.000']);
  // There is no drop frame at 24, 25 or 30 (ST 12-1), and 50i counts fields.
  refuses(readRate, ['24 DF', '30 DF', '50i', 'fast', '24/0', '24/48', '-24', '24000/1001/1', '1e3']);

  it('reads back every exact rate as it is written in a report', () => {
    fc.assert(fc.property(fc.integer({ min: 1, max: 480 }), fc.constantFrom(1, 1001), (base, den) => {
      const rate = den === 1 ? frameRate(base) : frameRate(base * 1000, 1001);
      expect(readRate(formatRate(rate))).toEqual({ kind: 'value', value: { rate } });
    }));
  });
});
