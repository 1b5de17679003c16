/** What the codes of a proxy mean. Codes are 8-bit ones with fractions throughout. */
export type Encoding =
  | { readonly kind: 'linear' }
  | { readonly kind: 'log'; readonly codesPerStop: number }
  /** A display curve: `codesPerStop` holds near the code of an 18 % grey card. */
  | { readonly kind: 'curve'; readonly codesPerStop: number; readonly greyCode: number };

/** Stops from one code to another; positive when `to` is brighter. NaN for codes that carry no light. */
export function stopsBetween(from: number, to: number, encoding: Encoding): number {
  if (encoding.kind === 'linear') return from > 0 && to > 0 ? Math.log2(to / from) : Number.NaN;
  return (to - from) / encoding.codesPerStop;
}
