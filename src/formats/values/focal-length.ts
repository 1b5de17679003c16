import { lengthUnit, parseLength, toMetres } from './length.ts';
import { tidy } from './number.ts';
import type { Reading } from './reading.ts';
import { BLANK, unreadable, valueOf } from './reading.ts';
import { isUnknown } from './unknown.ts';
import type { CellUnit } from './unit.ts';

const EXPECTED = 'one focal length such as 35mm (for a zoom, the length it was set to)';

/** A focal length in mm. Without any unit it is mm: lenses are engraved in nothing else. 0 is how exports write "not set". */
export function readFocalLength(text: string, unit?: CellUnit): Reading<number> {
  if (isUnknown(text)) return BLANK;
  const length = parseLength(text);
  if (length === undefined || length.kind === 'infinity') return unreadable(EXPECTED);
  const metres = length.kind === 'metres' ? length.metres : toMetres(length.amount, lengthUnit(unit) ?? 'mm');
  if (metres === 0) return BLANK;
  const mm = tidy(metres * 1000);
  return mm >= 1 && mm <= 5000 ? valueOf(mm) : unreadable(`${EXPECTED}, from 1 to 5000 mm`);
}
