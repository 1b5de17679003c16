import type { ClipNote } from '../../../core/material/day.ts';
import type { ReadingProblem } from '../../../core/material/finding.ts';
import { exportOfPart, stemUnlessNamed } from '../../sidecars/stem.ts';
import { tableProblem } from '../table-problem.ts';

/**
 * Camera exports come in parts that only together say all (`…_Static.csv` names the clip, `…_Frames.csv` holds its frames).
 * Parts that lie in one folder under one name become one note in the place of the first; every statement keeps its own source.
 * Other notes stay as they are.
 */
export function joinExportParts(notes: readonly ClipNote[]): { readonly notes: readonly ClipNote[]; readonly problems: readonly ReadingProblem[] } {
  const groups = new Map<string, ClipNote[]>();
  for (const [place, note] of notes.entries()) {
    // A table of many clips is no part, whatever its name.
    const alone = notes[place - 1]?.file !== note.file && notes[place + 1]?.file !== note.file;
    const key = (alone ? exportOfPart(note.file) : undefined) ?? `${place}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [note]);
    else group.push(note);
  }
  const joined = [...groups.values()].flatMap(joinNotes);
  return { notes: joined, problems: joined.flatMap(checkLengths) };
}

function joinNotes(parts: readonly ClipNote[]): readonly ClipNote[] {
  const [first] = parts;
  if (first === undefined || parts.length === 1) return parts;
  const { stem: _ownStem, ...rest } = first;
  const statements = parts.flatMap((part) => part.statements);
  return [{ ...rest, place: '', ...stemUnlessNamed(first.file, statements), statements, tracks: parts.flatMap(({ tracks }) => tracks) }];
}

/** The length one part states and the frames another part holds. */
function checkLengths({ file, statements }: ClipNote): readonly ReadingProblem[] {
  if (exportOfPart(file) === undefined) return [];
  const [first, ...others] = statements.flatMap((statement) => (statement.field === 'frames' ? [statement] : []));
  const other = others.find(({ value }) => value !== first?.value);
  if (first === undefined || other === undefined) return [];
  const expected = `${first.value} frames as in ${first.source.file}, ${first.source.place}`;
  return [tableProblem(other.source.file, other.source.place, `${other.value} frames`, expected, 'One part of the export is cut short. Export it again.', 'warn', 'length-disagrees')];
}
