/** Every NaN, infinity and −0 in a value: what must never go out. */
export function faultyNumbers(value: unknown): readonly unknown[] {
  if (typeof value === 'number') return !Number.isFinite(value) || Object.is(value, -0) ? [value] : [];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(faultyNumbers) : [];
}
