import type { Stop } from '../../core/material/statement.ts';
import { parseDecimal, parseMixed } from './number.ts';
import { plainWord } from './plain.ts';
import type { Reading } from './reading.ts';
import { BLANK, unreadable, valueOf } from './reading.ts';
import { isUnknown } from './unknown.ts';
import type { CellUnit } from './unit.ts';

const EXPECTED = 'a stop such as T2.8, 2.8 1/2, f/5.6';

/** Full stops as engraved, and what the number stands for: powers of √2 (ISO 517). */
const FULL_STOPS: Readonly<Record<string, number>> = {
  '0.7': Math.SQRT1_2, '1': 1, '1.4': Math.SQRT2, '2': 2, '2.8': Math.sqrt(8), '4': 4, '5.6': Math.sqrt(32), '8': 8, '11': Math.sqrt(128),
  '16': 16, '22': Math.sqrt(512), '32': 32, '45': Math.sqrt(2048), '64': 64,
};

/**
 * A stop: `T2.8`, `f/5.6`, `2.8 1/2` and `1.4 + 7/10` (that part of a stop beyond), `T2.8/4` (a split: the middle of the two,
 * assumed). The scale is the cell's own letter, else the heading's, else unknown.
 */
export function readStop(text: string, unit?: CellUnit): Reading<Stop> {
  if (isUnknown(text)) return BLANK;
  const plain = plainWord(text).replace(/,(?=\d)/g, '.');
  const [, letter, rest] = /^(?:([tf])(?:[ -]?stop)?(?: ?[/:=])? ?)?([\d.].{0,30})$/.exec(plain) ?? [];
  if (rest === undefined) return unreadable(EXPECTED);
  const kind = letter === 't' ? 'T' : letter === 'f' ? 'f' : unit === 'T' || unit === 'f' ? unit : 'unknown';
  if (letter === undefined && parseDecimal(rest) === 0) return BLANK;
  return stopPlusPart(rest, kind) ?? splitStop(rest, kind) ?? stopWithin(parseDecimal(rest), kind);
}

/** The exact f-number of an engraved full stop: 2.8 is √8. Undefined when the number is no full stop. */
export function fullStop(engraved: number): number | undefined {
  const key = String(engraved);
  return Object.hasOwn(FULL_STOPS, key) ? FULL_STOPS[key] : undefined;
}

function stopWithin(number: number | undefined, kind: Stop['kind'], assumed?: string): Reading<Stop> {
  if (number === undefined || number < 0.5 || number > 256) return unreadable(EXPECTED);
  return valueOf({ kind, number }, assumed);
}

function stopPlusPart(text: string, kind: Stop['kind']): Reading<Stop> | undefined {
  const [, baseText, partText] = /^([\d.]+) ?(?:\+|and|&)? ?(?<= |\+|and|&)(\d{1,2}\/\d{1,2}|a half|a third)$/.exec(text) ?? [];
  if (baseText === undefined || partText === undefined) return undefined;
  const base = parseDecimal(baseText);
  const part = partText === 'a half' ? 1 / 2 : partText === 'a third' ? 1 / 3 : parseMixed(partText);
  if (base === undefined || part === undefined || part < 0 || part >= 1) return unreadable(EXPECTED);
  return stopWithin((fullStop(base) ?? base) * 2 ** (part / 2), kind);
}

/** "2.8/4": between two neighbouring stops. Their geometric middle is half way in light. Common practice, no source. */
function splitStop(text: string, kind: Stop['kind']): Reading<Stop> | undefined {
  const [, wideText, closedText] = /^([\d.]+) ?\/ ?[tf]? ?([\d.]+)$/.exec(text) ?? [];
  if (wideText === undefined || closedText === undefined) return undefined;
  const wide = parseDecimal(wideText);
  const closed = parseDecimal(closedText);
  if (wide === undefined || closed === undefined || closed / wide <= 1 || closed / wide > 1.46) return unreadable(EXPECTED);
  const middle = Math.sqrt((fullStop(wide) ?? wide) * (fullStop(closed) ?? closed));
  return stopWithin(middle, kind, `${wideText}/${closedText} is taken as the middle between the two`);
}
