import type { ClipNote } from '../../../core/material/day.ts';
import type { ReadingProblem } from '../../../core/material/finding.ts';
import { tableProblem } from '../table-problem.ts';

/**
 * Camera exports come in parts that only together say all (`…_Static.csv` names the clip, `…_Frames.csv` holds its frames).
 * Parts in one folder with one stem become one note; every statement keeps its own source. Other notes stay as they are.
 */
export function joinExportParts(notes: readonly ClipNote[]): { readonly notes: readonly ClipNote[]; readonly problems: readonly ReadingProblem[] } {
  const joined: ClipNote[] = [];
  const places = new Map<string, number>();
  for (const note of notes) {
    const key = note.kind === 'report' && note.stem !== undefined ? `${note.folder}\n${note.stem}` : undefined;
    const place = key === undefined ? undefined : places.get(key);
    const before = place === undefined ? undefined : joined[place];
    if (place !== undefined && before !== undefined) joined[place] = { ...before, statements: [...before.statements, ...note.statements], tracks: [...before.tracks, ...note.tracks] };
    else {
      if (key !== undefined) places.set(key, joined.length);
      joined.push(note);
    }
  }
  return { notes: joined, problems: joined.flatMap(checkLengths) };
}

/** The length one part states and the frames another part holds. */
function checkLengths({ kind, statements }: ClipNote): readonly ReadingProblem[] {
  const [first, ...others] = statements.flatMap((statement) => (kind === 'report' && statement.field === 'frames' ? [statement] : []));
  const other = others.find(({ value }) => value !== first?.value);
  if (first === undefined || other === undefined) return [];
  return [tableProblem(other.source.file, other.source.place, `${other.value} frames`, `${first.value} frames as in ${first.source.file}, ${first.source.place}`, 'One part of the export is cut short. Export it again.', 'warn', 'length-disagrees')];
}
