import { parseMixed, tidy } from './number.ts';
import { plainWord } from './plain.ts';
import type { CellUnit } from './unit.ts';
import { unitOfWord } from './unit.ts';

export type LengthUnit = 'mm' | 'cm' | 'm' | 'in' | 'ft';

/** A length as written: `bare` when no unit stood beside it. */
export type WrittenLength =
  | { readonly kind: 'metres'; readonly metres: number }
  | { readonly kind: 'bare'; readonly amount: number }
  | { readonly kind: 'infinity' };

/**
 * A length as people write it: `35mm`, `381 cm`, `3.81 m`, `1m42`, `12'6"`, `12' 6 1/2"`, `12 ft 6 in`, `5.83 ft`, `inf`, `∞`.
 * Undefined when it is none, and for a zoom's range (`24-70`).
 */
export function parseLength(text: string): WrittenLength | undefined {
  const plain = plainWord(text);
  if (plain.length > 40) return undefined;
  if (/^(?:inf\.?|infinity|infinite|∞)$/.test(plain)) return { kind: 'infinity' };
  const sign = plain.startsWith('-') ? -1 : 1;
  const size = plain.replace(/^[+-] ?/, '');
  const metres = feetAndInches(size) ?? metresAndCentimetres(size) ?? amountAndUnit(size);
  if (metres !== undefined) return { kind: 'metres', metres: tidy(sign * metres) };
  const amount = parseMixed(size);
  return amount === undefined ? undefined : { kind: 'bare', amount: tidy(sign * amount) };
}

/** Metres in an amount of a unit of length. */
export function toMetres(amount: number, unit: LengthUnit): number {
  switch (unit) {
    case 'mm': return tidy(amount / 1000);
    case 'cm': return tidy(amount / 100);
    case 'm': return amount;
    // The international inch and foot, exact since 1959.
    case 'in': return tidy(amount * 0.0254);
    case 'ft': return tidy(amount * 0.3048);
    default: return unit satisfies never;
  }
}

/** The unit, when it is one of length. */
export function lengthUnit(unit: CellUnit | undefined): LengthUnit | undefined {
  return unit === 'mm' || unit === 'cm' || unit === 'm' || unit === 'in' || unit === 'ft' ? unit : undefined;
}

function feetAndInches(text: string): number | undefined {
  const [, feetText, inchText] = /^([\d., /]+?) ?(?:'|ft\.?|feet|foot) ?-? ?([\d., /-]+?) ?(?:"|in\.?|inch(?:es)?)?$/.exec(text) ?? [];
  if (feetText === undefined || inchText === undefined) return undefined;
  const feet = parseMixed(feetText);
  const inches = parseMixed(inchText);
  if (feet === undefined || inches === undefined || inches < 0 || inches >= 12) return undefined;
  return feet * 0.3048 + inches * 0.0254;
}

function metresAndCentimetres(text: string): number | undefined {
  const [, metres, centimetres] = /^(\d{1,3}) ?m ?(\d{2})(?: ?cm)?$/.exec(text) ?? [];
  return metres === undefined || centimetres === undefined ? undefined : (Number(metres) * 100 + Number(centimetres)) / 100;
}

function amountAndUnit(text: string): number | undefined {
  const [, amountText, unitText] = /^([\d., /-]*\d[.,]?) ?([a-z'"]+\.?)$/.exec(text) ?? [];
  if (amountText === undefined || unitText === undefined) return undefined;
  const amount = parseMixed(amountText);
  const unit = lengthUnit(unitOfWord(unitText));
  return amount === undefined || unit === undefined ? undefined : toMetres(amount, unit);
}
