import { describe, expect, it } from 'vitest';
import { differenceWords, filterWords, metresWords, numberWords, stopWords } from '../../../src/formats/sheet/value-words.ts';

describe('values in words', () => {
  it.each([
    [100, 2, '100'], [2.5, 2, '2.5'], [2.005, 1, '2'], [-0.04, 1, '0'], [-3.25, 2, '−3.25'], [0, 3, '0'], [1e-9, 3, '0'], [Infinity, 2, '∞'], [Number.NaN, 2, 'not a number'],
  ])('writes %s to %s decimals as %s', (value, digits, words) => {
    expect(numberWords(value, digits)).toBe(words);
  });

  it.each([
    [0.5, 2, 'mm', '+0.5 mm'], [-0.1, 2, '°', '−0.1°'], [1, 1, 'stops', '+1 stop'], [-2, 1, 'stops', '−2 stops'], [0.001, 1, 'K', '='],
  ])('writes a difference of %s in %s decimals of %s as %s', (value, digits, unit, words) => {
    expect(differenceWords(value, digits, unit)).toBe(words);
  });

  it('gives distances in metres, and in feet and inches of 25.4 mm for the tape', () => {
    expect(metresWords(3.81)).toBe('3.81 m (12′ 6″)');
    expect(metresWords(0.3048)).toBe('0.305 m (1′ 0″)');
    expect(metresWords(Infinity)).toBe('∞');
  });

  it('names the scale of a stop, or says that nobody did', () => {
    expect(stopWords({ kind: 'T', number: 2.8 })).toBe('T2.8');
    expect(stopWords({ kind: 'f', number: 4 })).toBe('f/4');
    expect(stopWords({ kind: 'unknown', number: 4 })).toBe('4 (scale not named)');
    expect(filterWords({ text: 'ND.6 + BPM', ndDensity: 0.6 })).toBe('ND.6 + BPM (ND 0.6 in all)');
    expect(filterWords({ text: 'clear' })).toBe('clear');
  });
});
