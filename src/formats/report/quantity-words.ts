import type { Finding, Quantity } from '../../core/material/finding.ts';
import { tidyNumber } from './order.ts';

/** "13 frames", "0.33 stops", "1.5°", "24000/1001": a quantity as people read it, to three decimals. */
export function quantityWords({ value, unit }: Quantity): string {
  const number = typeof value === 'number' ? String(tidyNumber(Math.round(value * 1000) / 1000) ?? 'not a number') : value;
  const text = number.replace(/^-(?=\d)/, '−');
  if (unit === '' || unit === '°') return `${text}${unit}`;
  return `${text} ${value === 1 && (unit === 'frames' || unit === 'stops') ? unit.slice(0, -1) : unit}`;
}

/** "13 frames, allowed 0 frames"; empty when the finding measures nothing. */
export function measuredWords({ measured, allowed }: Pick<Finding, 'measured' | 'allowed'>): string {
  const words = [measured === undefined ? '' : quantityWords(measured), allowed === undefined ? '' : `allowed ${quantityWords(allowed)}`];
  return words.filter((part) => part !== '').join(', ');
}
