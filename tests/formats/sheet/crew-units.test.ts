import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { centimetreWords, feetWords, sharpWords, tapeWords } from '../../../src/formats/sheet/crew-units.ts';
import { roundedDown, toleranceWords } from '../../../src/formats/sheet/tolerance-words.ts';

describe('lengths as a crew reads them', () => {
  // An inch is 25.4 mm, a foot twelve of them (international yard and pound agreement, 1959).
  it.each([[0.3048, '1′ 0″'], [2.1, '6′ 10¾″'], [1.42, '4′ 8″'], [1.6, '5′ 3″'], [1.8161, '5′ 11½″'], [1.8288, '6′ 0″'], [3.2, '10′ 6″'], [6.1, '20′ 0″'], [-0.3048, '−1′ 0″'], [0, '0′ 0″'], [-0.0001, '0′ 0″'], [Number.POSITIVE_INFINITY, '∞']])('%d m is %s', (metres, words) => {
    expect(feetWords(metres)).toBe(words);
  });

  it('never says twelve inches, and is never more than half its step out', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 100, noNaN: true }), (metres) => {
        const [, feet = '', inches = '', part = ''] = /^(\d+)′ (\d+)([¼½¾]?)″$/u.exec(feetWords(metres)) ?? [];
        expect(Number(inches)).toBeLessThan(12);
        const read = (Number(feet) * 12 + Number(inches) + ({ '': 0, '¼': 0.25, '½': 0.5, '¾': 0.75 }[part] ?? Number.NaN)) * 0.0254;
        expect(Math.abs(read - metres)).toBeLessThanOrEqual(metres < 3.048 ? 0.0254 / 8 + 1e-9 : 0.0254 / 2 + 1e-9);
      }),
    );
  });

  it('has heights in cm and distances in m, infinity as its sign', () => {
    expect(centimetreWords(1.425)).toBe('142.5 cm');
    expect(tapeWords(2.3456)).toBe('2.35 m');
    expect(tapeWords(12.34)).toBe('12.3 m');
    expect(sharpWords({ nearM: 2.5, farM: 'infinity' })).toBe('sharp 2.5 m to ∞ (8′ 2½″ to ∞)');
  });
});

describe('a tolerance in words', () => {
  it('is rounded towards zero, to two figures', () => {
    expect([6.47, 6.4, 0.0189, 12.9, 0.1, 1, 9.99, 1041.7].map(roundedDown)).toEqual([6.4, 6.4, 0.018, 12, 0.1, 1, 9.9, 1000]);
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 1e6, noNaN: true }), (value) => {
        expect(roundedDown(value)).toBeLessThanOrEqual(value * (1 + 1e-6));
        expect(roundedDown(value)).toBeGreaterThan(value * 0.909);
      }),
    );
  });

  const within = (of: 'height' | 'tilt' | 'shutter', amount: number, unit: 'mm' | '°') => toleranceWords({ kind: 'plus-minus', of, amount, unit, limitedBy: 'shift', limit: 2, assumptions: [] });

  it('is in the unit the setting is made in, and marked where no tape or level shows it', () => {
    expect(within('height', 6.47, 'mm')).toEqual({ kind: 'within', text: '± 0.64 cm', fine: false });
    expect(within('height', 0.512, 'mm')).toEqual({ kind: 'within', text: '± 0.51 mm', fine: true });
    expect(within('height', 2345, 'mm')).toEqual({ kind: 'within', text: '± 2.3 m', fine: false });
    expect(within('tilt', 0.0189, '°')).toEqual({ kind: 'within', text: '± 0.018°', fine: true });
    expect(within('shutter', 0.05, '°')).toEqual({ kind: 'within', text: '± 0.05°', fine: false });
  });

  it('gives focus its tighter side, and for a focus at infinity how near it may come', () => {
    const range = (nearestM: number, farthestM: number | 'infinity') => ({ kind: 'range', of: 'focus', nearestM, farthestM, limitedBy: 'blur', limit: 1, assumptions: [] }) as const;
    expect(toleranceWords(range(1.949, 2.054), 2)).toMatchObject({ text: '± 5.1 cm' });
    expect(toleranceWords(range(6, 'infinity'), 9.5)).toMatchObject({ text: '± 3.5 m' });
    expect(toleranceWords(range(41.23, 'infinity'), Number.POSITIVE_INFINITY)).toMatchObject({ text: 'not nearer than 41.3 m' });
  });

  it('names what is missing or impossible instead', () => {
    expect(toleranceWords({ kind: 'unknown', missing: ['subject distance'] })).toEqual({ kind: 'missing', what: ['subject distance'] });
    expect(toleranceWords({ kind: 'free', of: 'side', why: 'near and far lie on one plane' })).toEqual({ kind: 'free', text: 'free: near and far lie on one plane' });
    expect(toleranceWords({ kind: 'refused', refusals: [{ what: 'tilt', found: '409.5', expected: 'an angle' }] })).toEqual({ kind: 'impossible', text: 'no tolerance: tilt must be an angle, found 409.5' });
  });
});
