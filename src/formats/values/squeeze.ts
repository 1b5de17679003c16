import { parseDecimal, tidy } from './number.ts';
import { plainWord } from './plain.ts';
import type { Reading } from './reading.ts';
import { BLANK, unreadable, valueOf } from './reading.ts';
import { isUnknown } from './unknown.ts';
import type { CellUnit } from './unit.ts';

const EXPECTED = 'a squeeze such as 2x, 1.8 or 2:1';

/** An anamorphic squeeze: `2x`, `x1.8`, `1.33`, `2:1`, `4/3`, `200%`, `spherical` (1). 0 is "not set". */
export function readSqueeze(text: string, unit?: CellUnit): Reading<number> {
  if (isUnknown(text)) return BLANK;
  const plain = plainWord(text);
  if (plain === 'spherical' || plain === 'sph') return valueOf(1);
  const [, over, sign, under] = /^x? ?([\d.,]+) ?(?:([x%])|[:/] ?([\d.,]+))?$/.exec(plain) ?? [];
  const amount = over === undefined ? undefined : parseDecimal(over);
  const divisor = under === undefined ? 1 : parseDecimal(under);
  if (amount === undefined || divisor === undefined || divisor === 0) return unreadable(EXPECTED);
  if (amount === 0) return BLANK;
  const inPercent = sign === '%' || (unit === '%' && sign === undefined && under === undefined);
  const squeeze = tidy(amount / (inPercent ? 100 : divisor));
  return squeeze >= 0.5 && squeeze <= 4 ? valueOf(squeeze) : unreadable(EXPECTED);
}
