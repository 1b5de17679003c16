import type { Finding, FindingCode, Quantity } from '../../core/material/finding.ts';
import { tidyNumber } from './order.ts';

/** "13 frames", "0.33 stops", "1.5°", "24000/1001": a quantity as people read it, to three decimals. */
export function quantityWords({ value, unit }: Quantity): string {
  const number = typeof value === 'number' ? String(tidyNumber(Math.round(value * 1000) / 1000) ?? 'not a number') : value;
  const text = number.replace(/^-(?=\d)/, '−');
  if (unit === '' || unit === '°') return `${text}${unit}`;
  return `${text} ${value === 1 && (unit === 'frames' || unit === 'stops') ? unit.slice(0, -1) : unit}`;
}

/** "13 frames, allowed 0 frames", "57D, expected 57B"; empty when the finding measures nothing. */
export function measuredWords({ code, measured, allowed }: Pick<Finding, 'code' | 'measured' | 'allowed'>): string {
  if (measured === undefined) return allowed === undefined ? '' : heldAgainst(code, allowed);
  const found = `${code === 'ambiguous-match' ? 'margin ' : ''}${quantityWords(measured)}`;
  return allowed === undefined ? found : `${found}, ${heldAgainst(code, allowed)}`;
}

/** Least amounts, and numbers that another source or the lead gives: no tolerances. */
const LEAST: readonly FindingCode[] = ['ambiguous-match'];
const STATED: readonly FindingCode[] = ['frame-rate-differs', 'sensor-rate-differs', 'length-disagrees', 'sync-contradicted'];

/** Only what may be used up is "allowed": a tolerance in numbers. Words, and what another source says, are "expected". */
function heldAgainst(code: FindingCode, allowed: Quantity): string {
  const words = quantityWords(allowed);
  if (LEAST.includes(code) || (code === 'clean-plate-short' && allowed.value !== 0)) return `at least ${words} needed`;
  return typeof allowed.value === 'string' || STATED.includes(code) ? `expected ${words}` : `allowed ${words}`;
}
