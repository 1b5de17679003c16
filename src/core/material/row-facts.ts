import type { SlateGrammar } from '../slate/grammar.ts';
import { isSlate } from '../slate/parse-slate.ts';
import { slateFromColumns } from '../slate/slate-columns.ts';
import type { Slate } from '../slate/slate.ts';
import type { Role } from './clip.ts';
import { textOf } from './clip-index.ts';
import { cameraLetter, clipNumberName, rollNumber } from './clip-names.ts';
import type { ClipNote } from './day.ts';
import type { RoleReader } from './role-words.ts';

/** What a row says that may find its clip. */
export interface RowFacts {
  readonly camera: string | undefined;
  readonly roll: number | undefined;
  /** "C012"; undefined when the clip cell is no number. */
  readonly clip: string | undefined;
  readonly date: string | undefined;
  readonly tcIn: string | undefined;
  readonly slate: Slate | undefined;
  readonly passRoles: readonly Role[];
  /** What the row goes by, in words; "" when it names nothing. */
  readonly words: string;
  readonly roleOfSuffix: (suffix: string) => Role | undefined;
}

/** Reads the cells of a row that may find its clip. */
export function rowFacts(note: ClipNote, grammar: SlateGrammar, reader: RoleReader): RowFacts {
  const texts: { -readonly [F in 'slate' | 'scene' | 'setup' | 'take' | 'pass']?: string } = {};
  for (const { field, value } of note.statements) {
    if (field === 'slate' || field === 'scene' || field === 'setup' || field === 'take' || field === 'pass') texts[field] ??= value;
  }
  const { pass, ...columns } = texts;
  const slate = slateFromColumns(columns, grammar);
  const camera = textOf(note, 'camera');
  const tcIn = textOf(note, 'tcIn');
  const roll = textOf(note, 'roll');
  const clip = textOf(note, 'clip');
  const number = clip === undefined ? undefined : clipNumberName(clip);
  const board = (['slate', 'scene', 'setup', 'take'] as const).flatMap((field) => (texts[field] === undefined ? [] : [`${field} ${texts[field]}`]));
  const numbers = [...(roll === undefined ? [] : [`roll ${roll}`]), ...(clip === undefined ? [] : [`clip ${clip}`])];
  const words = [...numbers, ...board, ...(camera === undefined ? [] : [`camera ${camera}`]), ...(tcIn === undefined ? [] : [`timecode ${tcIn}`])];
  return {
    camera: camera === undefined ? undefined : cameraLetter(camera),
    roll: roll === undefined ? undefined : rollNumber(roll),
    clip: number !== undefined && /^C\d+$/u.test(number) ? number : undefined,
    date: textOf(note, 'date'),
    tcIn,
    slate: slate !== undefined && isSlate(slate) ? slate : undefined,
    passRoles: pass === undefined ? [] : reader.named(pass).map(({ role }) => role),
    words: words.join(', '),
    roleOfSuffix: (suffix) => reader.named(suffix)[0]?.role,
  };
}
