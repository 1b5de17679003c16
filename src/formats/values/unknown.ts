import { plainWord } from './plain.ts';

/** How people and camera exports write "nobody knows". Common practice, no source; the last two are maker's codes. */
const UNKNOWN = new Set([
  '', '-', '--', '---', '----', '—', '.', '..', '...', '…', '?', '??', '???', '/', 'n.a.', 'n.a', 'n/a', 'na', '#n/a', 'unknown', 'unkn', 'unk',
  'tbd', 'tba', 'tbc', 'null', 'nil', 'undefined', 'nan', 'not available', 'not set', 'unset', 'not applicable', 'no data',
  'no scene name', 'no take name', 'no info', '<none>', '<unknown>', '(none)', '(unknown)', 'invalid', '65535/65535', '0/0',
]);

/** Whether a cell says nothing: empty, or one of the spellings of "unknown". Such a cell is never a value and never a problem. */
export function isUnknown(text: string): boolean {
  return text.length <= 40 && UNKNOWN.has(plainWord(text));
}
