const DECIMAL = /^([+-]?) ?(\d{1,12}(?:[.,]\d{0,15})?|[.,]\d{1,15})$/;

/**
 * A number as people type it: `3.5`, `3,5` (decimal comma), `.6`, `+4`, `-2`. Takes plain text; undefined for anything else.
 * A comma is always a decimal comma here: `1,600` is 1.6.
 */
export function parseDecimal(text: string): number | undefined {
  const [, sign, digits] = DECIMAL.exec(text) ?? [];
  if (digits === undefined) return undefined;
  const size = Number(digits.replace(',', '.'));
  return sign === '-' && size !== 0 ? -size : size;
}

/** A whole number from 0, with or without separators of thousands: `1600`, `1,600`, `1 600`, `800.0`. */
export function parseWhole(text: string): number | undefined {
  if (!/^(?:\d{1,12}|\d{1,3}(?:[, ']\d{3}){1,3})(?:\.0{1,6})?$/.test(text)) return undefined;
  return Number(text.replace(/[, ']/g, ''));
}

/** A number with a fraction behind it: `6 1/2`, `6-1/2`, `1/2`, `6.5`. */
export function parseMixed(text: string): number | undefined {
  const [, whole, over, under] = /^(?:(\d{1,9})[ -])?(\d{1,4})\/(\d{1,4})$/.exec(text) ?? [];
  if (over === undefined || under === undefined) return parseDecimal(text);
  if (Number(under) === 0) return undefined;
  return Number(whole ?? 0) + Number(over) / Number(under);
}

/** Without the noise of binary fractions: 12 significant digits, and never −0. */
export function tidy(value: number): number {
  return value === 0 ? 0 : Number(value.toPrecision(12));
}
