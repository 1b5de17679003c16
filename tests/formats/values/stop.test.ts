import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Stop } from '../../../src/core/material/statement.ts';
import { fullStop, readStop } from '../../../src/formats/values/stop.ts';
import { readsAs, refuses, saysNothing } from './reads-as.ts';

const T = (number: number): Stop => ({ kind: 'T', number });
const f = (number: number): Stop => ({ kind: 'f', number });
const plain = (number: number): Stop => ({ kind: 'unknown', number });

describe('a stop in a cell', () => {
  readsAs(readStop, [
    ['T2.8', T(2.8)],
    ['t2.8', T(2.8)],
    ['T 2,8', T(2.8)],
    ['T/2.8', T(2.8)],
    ['T-stop 4', T(4)],
    ['f/5.6', f(5.6)],
    ['F5.6', f(5.6)],
    ['2.8', plain(2.8)],
    ['2.8', T(2.8), 'T'],
    ['2.8', f(2.8), 'f'],
    // The cell's own letter beats the heading's.
    ['f/2.8', f(2.8), 'T'],
    ['T1.3', T(1.3)],
  ]);
  saysNothing(readStop, ['', '--', 'n.a.', '0', '0.0']);
  refuses(readStop, ['T0', 'f/0', '-2.8', 'T-2.8', 'wide open', '24-70', 'T', '2.8.3', '2.8 3/2', '1/3', '500', '2/3']);

  // Each stop halves the light: the number grows by the square root of two (ISO 517), a part of it by that part of the power.
  it.each([
    ['2.8 1/2', 3.3636],
    ['2.8½', 3.3636],
    ['T2.8+1/2', 3.3636],
    ['2.8 and a half', 3.3636],
    ['2.8 1/3', 3.1748],
    ['T2.8⅓', 3.1748],
    ['T 2 3/10', 2.2191],
    ['1.4 + 7/10', 1.8025],
    ['1,4 + 7/10', 1.8025],
    ['5.6 1/2', 6.7272],
    ['T1.3 1/3', 1.4592],
  ])('%j is that part of a stop beyond the full one', (text, number) => {
    const reading = readStop(text);
    expect(reading.kind === 'value' ? reading.value.number : reading).toBeCloseTo(number, 3);
  });

  it.each([['T2.8/4', 3.3636], ['2.8/4', 3.3636], ['5.6/8', 6.7272], ['11/16', 13.454]])('%j is a split, half way between, and that is told', (text, number) => {
    const reading = readStop(text);
    expect(reading).toMatchObject({ kind: 'value', assumed: expect.stringMatching(/middle/) });
    expect(reading.kind === 'value' ? reading.value.number : 0).toBeCloseTo(number, 3);
  });

  it('takes engraved full stops for the powers of the square root of two they stand for', () => {
    for (const [power, engraved] of [1, 1.4, 2, 2.8, 4, 5.6, 8, 11, 16, 22, 32, 45].entries()) {
      expect(fullStop(engraved)).toBeCloseTo(2 ** (power / 2), 12);
    }
    expect(fullStop(6)).toBeUndefined();
  });

  it('reads back every stop it could have written', () => {
    fc.assert(fc.property(fc.integer({ min: 50, max: 6400 }), fc.constantFrom('T', 'f'), (hundredths, kind) => {
      expect(readStop(`${kind}${hundredths / 100}`)).toEqual({ kind: 'value', value: { kind, number: hundredths / 100 } });
    }));
  });
});
