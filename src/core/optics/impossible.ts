/** A value no camera can have: what it was meant to be, what was found, what is possible. Callers turn it into a finding. */
export interface Refusal {
  readonly what: string;
  readonly found: string;
  readonly expected: string;
}

/** Thrown by the formulas for a value no camera can have (negative focal length, T0, focus inside the lens, NaN). */
export class ImpossibleValueError extends RangeError {
  readonly refusal: Refusal;

  constructor(what: string, found: number, expected: string) {
    super(`${what} must be ${expected}, not ${found}`);
    this.name = 'ImpossibleValueError';
    this.refusal = { what, found: String(found), expected };
  }
}

/** Longest and shortest length the formulas take, mm: a thousand kilometres and a nanometre. Within them nothing overflows. */
const LONGEST_MM = 1e9;
const SHORTEST_MM = 1e-6;

/** Guards a length. @throws {ImpossibleValueError} unless it is finite and above 0. */
export function assertLength(what: string, lengthMm: number): void {
  if (!(lengthMm >= SHORTEST_MM && lengthMm <= LONGEST_MM)) throw new ImpossibleValueError(what, lengthMm, 'a length above 0 mm');
}

/** Guards a distance that may be infinity. @throws {ImpossibleValueError} */
export function assertDistance(what: string, distanceMm: number): void {
  if (distanceMm !== Number.POSITIVE_INFINITY) assertLength(what, distanceMm);
}

/** Guards a plain number such as a stop, a rate or a count of pixels. @throws {ImpossibleValueError} unless it lies above 0 and at or below `most`. */
export function assertAbove0(what: string, value: number, most = 1e9): void {
  if (!(value >= 1e-9 && value <= most)) throw new ImpossibleValueError(what, value, most === 1e9 ? 'a number above 0' : `a number above 0, up to ${most}`);
}

/** Guards an angle in degrees. @throws {ImpossibleValueError} unless it is within ±`most`. */
export function assertAngle(what: string, degrees: number, most = 36_000): void {
  if (!(Math.abs(degrees) <= most)) throw new ImpossibleValueError(what, degrees, `an angle within ±${most}°`);
}

/** What the guard refuses; undefined when it lets the value by. */
export function refusalOf(guard: () => unknown): Refusal | undefined {
  const made = attempt(guard);
  return 'refusal' in made ? made.refusal : undefined;
}

/** What is made, or why it cannot be: turns a thrown `ImpossibleValueError` into data. */
export function attempt<T>(make: () => T): { readonly made: T } | { readonly refusal: Refusal } {
  try {
    return { made: make() };
  } catch (failure) {
    if (failure instanceof ImpossibleValueError) return { refusal: failure.refusal };
    throw failure;
  }
}

/** The same number, but never −0, which would print as "-0". */
export function unsignedZero(value: number): number {
  return value + 0;
}
