import { plainText } from './plain.ts';
import type { Reading } from './reading.ts';
import { BLANK, unreadable, valueOf } from './reading.ts';
import { isUnknown } from './unknown.ts';

const EXPECTED = 'a take such as 3, tk 4 or 3 PU';

/** A take as the log writes it, left as text for the slate grammar: `3`, `tk 4`, `3 PU`. It must hold a number. */
export function readTake(text: string): Reading<string> {
  if (isUnknown(text)) return BLANK;
  const take = plainText(text);
  return /\d/.test(take) && take.length <= 40 ? valueOf(take) : unreadable(EXPECTED);
}

/** The number of a take: 4 for `tk 4`, 3 for `3 PU`. */
export function readTakeNumber(text: string): Reading<number> {
  if (isUnknown(text)) return BLANK;
  const [, digits] = /^(?:take|tk|t|#)?[ .#:]*(\d{1,4})(?:\.0)? ?[a-z -]{0,12}$/i.exec(plainText(text)) ?? [];
  return digits === undefined ? unreadable(EXPECTED) : valueOf(Number(digits));
}
