import { lengthUnit, parseLength, toMetres } from './length.ts';
import type { Reading } from './reading.ts';
import { BLANK, unreadable, valueOf } from './reading.ts';
import { isUnknown } from './unknown.ts';
import type { CellUnit } from './unit.ts';

const EXPECTED = `a distance with its unit (3.81 m, 381 cm, 12'6")`;

/** Largest bare number taken as metres. Above it centimetres, inches and feet are as likely, and nothing tells them apart. */
const LARGEST_BARE_METRES = 30;

/** A focus distance in metres; Infinity for `inf` and `∞`. 0 and −0.001 are how cameras write "unknown". */
export function readFocusDistance(text: string, unit?: CellUnit): Reading<number> {
  const reading = readLength(text, unit, true);
  if (reading.kind !== 'value') return reading;
  if (reading.value <= 0 && reading.value >= -0.001) return BLANK;
  return reading.value > 0 && (reading.value <= 10_000 || reading.value === Infinity) ? reading : unreadable(`${EXPECTED} in front of the camera`);
}

/** A distance from the camera in metres, above 0. */
export function readDistance(text: string, unit?: CellUnit): Reading<number> {
  const reading = readLength(text, unit, false);
  if (reading.kind !== 'value') return reading;
  return reading.value > 0 && reading.value <= 10_000 ? reading : unreadable(`${EXPECTED} in front of the camera`);
}

/** A height or a position on one axis in metres; may be negative (a camera in a pit, a mark left of the origin). */
export function readPosition(text: string, unit?: CellUnit): Reading<number> {
  const reading = readLength(text, unit, false);
  if (reading.kind !== 'value') return reading;
  return Math.abs(reading.value) <= 1000 ? reading : unreadable(`${EXPECTED} within 1000 m`);
}

function readLength(text: string, unit: CellUnit | undefined, infinityAllowed: boolean): Reading<number> {
  if (isUnknown(text)) return BLANK;
  const length = parseLength(text);
  if (length === undefined) return unreadable(EXPECTED);
  if (length.kind === 'infinity') return infinityAllowed ? valueOf(Infinity) : unreadable(EXPECTED);
  if (length.kind === 'metres') return valueOf(length.metres);
  const headingUnit = lengthUnit(unit);
  if (headingUnit !== undefined) return valueOf(toMetres(length.amount, headingUnit));
  if (length.amount === 0) return valueOf(0);
  if (Math.abs(length.amount) > LARGEST_BARE_METRES) return unreadable(`${EXPECTED}; ${length.amount} may be centimetres, inches or feet`);
  return valueOf(length.amount, 'no unit is written: taken as metres');
}
