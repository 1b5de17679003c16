import type { Filters } from '../material/statement.ts';

const AMOUNT = String.raw`(?:\d?[.,]\d+|\d+\/\d+|\d+(?:[.,]\d+)?)`;
/** A neutral density as written: "ND.6", "IRND 0.9", "0.6ND", the N6 of "85N6", or a number alone under a heading that says ND. */
const NEUTRAL_DENSITY = new RegExp(
  String.raw`(?<![A-Z])(?:IR ?)?ND ?[-:]? ?${AMOUNT}|(?<![A-Z])N\.?[369](?![\d.,A-Z])|${AMOUNT} ?(?:IR ?)?ND(?![A-Z])|^\s*${AMOUNT}\s*$`,
  'g',
);
const NO_FILTER = new Set(['', 'ND', 'IRND', 'NONE', 'CLEAR', 'OPEN', 'OFF', 'NO', 'FILTER', 'FILTERS', 'N/A']);

/** No stack of filters is darker; a larger density is a misreading. */
const DARKEST = 20;

/** The summed optical density: 0 when the text names no neutral density, undefined when it names one that could not be read. */
export function densityOf({ text, ndDensity }: Filters): number | undefined {
  if (ndDensity !== undefined) return ndDensity >= 0 && ndDensity <= DARKEST ? ndDensity : undefined;
  return /(?<![A-Z])(?:IR ?)?ND(?![A-Z])|(?<![A-Z])N\.?\d/i.test(text) ? undefined : 0;
}

/** The filters that are no neutral density, so that two ways of writing them are one: "1/4 BPM + ND.6" and "ND.6, bpm 1/4". */
export function otherFilters({ text }: Filters): string {
  return words(text.toUpperCase().replace(NEUTRAL_DENSITY, ' '));
}

/** All filters as written, order, case and separators aside. */
export function allFilters({ text }: Filters): string {
  return words(text.toUpperCase());
}

function words(text: string): string {
  return text
    .split(/[^\p{L}\p{N}/.]+/u)
    .filter((word) => !NO_FILTER.has(word))
    .sort()
    .join(' ');
}
