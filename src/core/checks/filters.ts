import type { Filters } from '../material/statement.ts';

/** A neutral density as written: "ND.6", "IRND 0.9", "0.6ND", "ND 1.2". */
const NEUTRAL_DENSITY = /\b(?:IR)?ND\s*\d*\.?\d+|\b\d*\.?\d+\s*(?:IR)?ND\b/g;
const NO_FILTER = new Set(['', 'NONE', 'CLEAR', 'OPEN', 'NO', 'FILTER', 'FILTERS', 'N/A']);

/** The summed optical density: 0 when the text names no neutral density, undefined when it names one that could not be read. */
export function densityOf({ text, ndDensity }: Filters): number | undefined {
  return ndDensity ?? (/ND/i.test(text) ? undefined : 0);
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
