import { plainWord } from './plain.ts';
import type { Reading } from './reading.ts';
import { BLANK, unreadable, valueOf } from './reading.ts';
import { isUnknown } from './unknown.ts';

const YES = new Set([
  'x', 'xx', '✓', '✔', '✔️', '☑', '✅', '*', '**', '●', '◉', '◯', '⭕',
  'yes', 'y', 'true', '1', 'circled', 'circle', 'circ', 'c', 'good', 'ok', 'print', 'select', 'selected',
]);
const NO = new Set(['no', 'n', 'false', '0', 'ng', 'n.g.', 'n.g', 'no good', 'not circled', 'uncircled', 'not good', '☐', 'bad', 'off']);

/** Whether a take is circled: `x`, `✓`, `*`, `yes`, `circled`, `print` say so; `NG`, `no`, `0` say not. An empty cell says nothing. */
export function readCircled(text: string): Reading<boolean> {
  if (isUnknown(text)) return BLANK;
  const word = plainWord(text);
  if (YES.has(word)) return valueOf(true);
  return NO.has(word) ? valueOf(false) : unreadable('a mark for a circled take (x, ✓, *, yes) or none (NG, no)');
}

/** Whether labels count drop frame: `DF`, `drop`, `yes`; `NDF`, `non-drop`, `no`. */
export function readDropFrame(text: string): Reading<boolean> {
  if (isUnknown(text)) return BLANK;
  const word = plainWord(text);
  if (/^(?:df|drop|drop ?frame|yes|true|1|on)$/.test(word)) return valueOf(true);
  return /^(?:ndf|non-?drop(?: ?frame)?|no|false|0|off)$/.test(word) ? valueOf(false) : unreadable('DF or NDF');
}
