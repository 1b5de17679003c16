import type { Shutter } from '../../core/material/statement.ts';
import { parseDecimal, tidy } from './number.ts';
import { plainWord } from './plain.ts';
import type { Reading } from './reading.ts';
import { BLANK, unreadable, valueOf } from './reading.ts';
import { isUnknown } from './unknown.ts';
import type { CellUnit } from './unit.ts';
import { unitOfWord } from './unit.ts';

const EXPECTED = 'a shutter angle such as 172.8° or an exposure time such as 1/48 s or 20 ms';

/** Largest bare whole number that may as well be the 48 of 1/48. Above it, only an angle is common. */
const LARGEST_DOUBTFUL = 120;

/**
 * A shutter: `172.8°`, `180`, `1/48`, `1/48 s`, `20.000 ms`. A bare number is an angle; a small whole one (48, 90) is so only
 * by assumption, since 1/48 is often written as 48.
 */
export function readShutter(text: string, unit?: CellUnit): Reading<Shutter> {
  if (isUnknown(text)) return BLANK;
  const plain = plainWord(text);
  const [, under, secondsWord] = /^1 ?\/ ?([\d.,]+) ?([a-z]+\.?)?$/.exec(plain) ?? [];
  if (under !== undefined) {
    return secondsWord === undefined || unitOfWord(secondsWord) === 's' ? exposureTime(1, parseDecimal(under)) : unreadable(EXPECTED);
  }
  const [, amountText, unitText] = /^([\d.,]+) ?([a-zµμ°]+\.?)?$/.exec(plain) ?? [];
  const amount = amountText === undefined ? undefined : parseDecimal(amountText);
  if (amount === undefined) return unreadable(EXPECTED);
  if (amount === 0) return BLANK;
  if (unitText === 'µs' || unitText === 'μs' || unitText === 'us') return exposureTime(amount, 1_000_000);
  return byUnit(amount, unitText === undefined ? unit : unitOfWord(unitText), unitText === undefined);
}

function byUnit(amount: number, unit: CellUnit | undefined, bare: boolean): Reading<Shutter> {
  if (unit === 'deg') return angle(amount);
  if (unit === 'ms') return exposureTime(amount, 1000);
  if (unit === 's') return exposureTime(amount, 1);
  if (unit === '1/s') return exposureTime(1, amount);
  if (!bare) return unreadable(EXPECTED);
  return angle(amount, Number.isInteger(amount) && amount <= LARGEST_DOUBTFUL ? `no unit is written: taken as ${amount} degrees, not 1/${amount} s` : undefined);
}

function angle(degrees: number, assumed?: string): Reading<Shutter> {
  return degrees > 0 && degrees <= 360 ? valueOf({ kind: 'angle', degrees }, assumed) : unreadable(`${EXPECTED}; an angle is at most 360°`);
}

function exposureTime(over: number, under: number | undefined): Reading<Shutter> {
  if (under === undefined || under === 0) return unreadable(EXPECTED);
  const seconds = tidy(over / under);
  return seconds > 0 && seconds <= 60 ? valueOf({ kind: 'time', seconds }) : unreadable(EXPECTED);
}
