import type { Filters } from '../../core/material/statement.ts';
import { parseDecimal, tidy } from './number.ts';
import { plainWord } from './plain.ts';
import type { Reading } from './reading.ts';
import { BLANK, valueOf } from './reading.ts';
import { isUnknown } from './unknown.ts';
import type { CellUnit } from './unit.ts';

const NO_FILTER = /^(?:none|no|clear|no filters?|no nd|nd ?clear|nd ?none|nd ?off|off|open)$/;
/** Graduated filters darken a part of the picture: their number is no density of the whole. */
const GRADUATED = /grad|attenuator|soft ?edge|hard ?edge|\b[sh]e\b/;
const AMOUNT = String.raw`(\d?[.,]\d{1,3}|\d{1,4}\/\d{1,6}|\d{1,4}(?:[.,]\d{1,3})?)`;
const ND_BEFORE = new RegExp(String.raw`(?<![a-z])(?:ir ?)?nd ?[-:]? ?${AMOUNT}(?![\d])`, 'g');
/** "85N6": the amber filter of daylight and a neutral density in one glass. */
const ND_IN_85 = /(?<![a-z])n([369])(?![\d.,a-z])/g;
const ND_AFTER = new RegExp(String.raw`(?<![\d.,/])${AMOUNT} ?(?:ir ?)?nd(?![a-z])`, 'g');

/**
 * Filters as written, with the sum of their neutral densities when it can be told: `ND.6` 0.6, `ND6` 0.6, `ND 0.9 + Pola` 0.9,
 * `85N6` 0.6, `ND 1/4` 0.602, `clear` and `none` 0. Never unreadable: the words are kept whatever they say.
 */
export function readFilters(text: string, unit?: CellUnit): Reading<Filters> {
  if (isUnknown(text)) return BLANK;
  const written = text.trim();
  const plain = plainWord(text);
  if (NO_FILTER.test(plain)) return valueOf({ text: written, ndDensity: 0 });
  const bare = unit === 'nd' ? density(plain) : undefined;
  const ndDensity = bare ?? (GRADUATED.test(plain) ? undefined : sumOfDensities(plain));
  return valueOf(ndDensity === undefined ? { text: written } : { text: written, ndDensity });
}

/** Undefined when no neutral density is named, or one of them has no number that can be told. */
function sumOfDensities(text: string): number | undefined {
  const amounts: string[] = [];
  const remember = (_all: string, amount: string): string => {
    amounts.push(amount);
    return ' ';
  };
  const rest = text.replace(ND_BEFORE, remember).replace(ND_IN_85, remember).replace(ND_AFTER, remember);
  if (amounts.length === 0 || /(?<![a-z])(?:ir)?nd(?![a-z])/.test(rest)) return undefined;
  let sum = 0;
  for (const amount of amounts) {
    const one = density(amount);
    if (one === undefined) return undefined;
    sum += one;
  }
  return tidy(sum);
}

/**
 * The optical density an ND's number stands for. Whole multiples of three are tenths (ND3, ND6, ND9: a third of a stop is
 * about 0.1); other whole numbers (ND8, ND64) are factors to some and nothing to others, so they tell nothing. A fraction is
 * the light let through. Common practice, no source.
 */
function density(amount: string): number | undefined {
  const [, over, under] = /^(\d{1,4})\/(\d{1,6})$/.exec(amount) ?? [];
  if (over !== undefined && under !== undefined) {
    const through = Number(over) / Number(under);
    return through > 0 && through <= 1 ? tidy(Math.round(-Math.log10(through) * 1000) / 1000) : undefined;
  }
  const number = parseDecimal(amount);
  if (number === undefined || number < 0) return undefined;
  if (/[.,]/.test(amount)) return number <= 6 ? number : undefined;
  return number <= 30 && number % 3 === 0 ? number / 10 : undefined;
}
