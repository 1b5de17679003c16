import { parseWhole } from './number.ts';
import { plainWord } from './plain.ts';
import type { Reading } from './reading.ts';
import { BLANK, unreadable, valueOf } from './reading.ts';
import { isUnknown } from './unknown.ts';

const EXPECTED = 'an exposure index such as 800, EI 800 or ISO 800';

/** An exposure index: `800`, `EI 800`, `ISO 800`, `800 ASA`. 0 is how exports write "not set". */
export function readExposureIndex(text: string): Reading<number> {
  if (isUnknown(text)) return BLANK;
  const [, amountText] = /^(?:(?:ei|iso|asa)[ :]?)? ?([\d., ']*\d) ?(?:ei|iso|asa)?$/.exec(plainWord(text)) ?? [];
  const ei = amountText === undefined ? undefined : parseWhole(amountText);
  if (ei === 0) return BLANK;
  return ei !== undefined && ei >= 1 && ei <= 10_000_000 ? valueOf(ei) : unreadable(EXPECTED);
}
