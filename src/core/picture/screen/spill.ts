/** The colour of the screen performers are shot against. */
export type ScreenColour = 'green' | 'blue';

/** How far the screen's channel stands over the others, codes, and the share of it that is spill, 0 to 1. */
export interface Spill {
  /** Over the stronger of the other two: what a cautious despill takes away. Negative for skin. */
  readonly excessOverMax: number;
  /** Over the mean of the other two: never less. */
  readonly excessOverMean: number;
  readonly share: number;
}

/** The spill of one pixel (colour differences as in Smith and Blinn 1996), in linear light or the same log for all. */
export function spillOf(red: number, green: number, blue: number, screen: ScreenColour = 'green'): Spill {
  const own = screen === 'green' ? green : blue;
  const other = screen === 'green' ? blue : green;
  const excessOverMax = own - Math.max(red, other);
  return { excessOverMax, excessOverMean: own - (red + other) / 2, share: Math.max(0, excessOverMax) / Math.max(own, 1e-6) };
}
