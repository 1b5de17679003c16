import type { Stop } from '../material/statement.ts';

/**
 * Printed third-stop marks; the number at place k means 2^(k/6), so "2.8" is 2.8284 and "11" is 11.3137. Not reading them so
 * makes errors of up to 0.08 stop. Common practice of engraving; the full stops are powers of √2 (US Army lesson SS0508).
 */
const PRINTED_MARKS = [
  1, 1.1, 1.3, 1.4, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3.2, 3.5, 4, 4.5, 5, 5.6, 6.3, 7.1, 8, 9, 10, 11, 13, 14, 16, 18, 20, 22, 25, 29, 32, 36,
  40, 45,
];

/** The iris number a mark stands for; a number that is no printed mark stands for itself. */
export function exactStop(written: number): number {
  const step = PRINTED_MARKS.indexOf(written);
  return step === -1 ? written : 2 ** (step / 6);
}

/** Stops of light that iris `b` lets through less than iris `a`; negative when it lets through more. */
export function stopsDarker(a: number, b: number): number {
  return 2 * Math.log2(exactStop(b) / exactStop(a));
}

/** Whether two iris values are on one scale. T and f differ by what the glass swallows, so a T is never held against an f. */
export function sameScale(a: Stop['kind'], b: Stop['kind']): boolean {
  return a === b || a === 'unknown' || b === 'unknown';
}

/** Stops that a neutral density takes: density is a decimal logarithm, so ND.3 is 0.9966 stop and not 1. */
export function stopsOfDensity(density: number): number {
  return density / Math.log10(2);
}

/** Stops between two sensitivities (EI) or two exposure times; negative when `b` is lower. */
export function stopsBetween(a: number, b: number): number {
  return Math.log2(b / a);
}
