import type { Clip, ClipId, Role } from '../material/clip.ts';
import type { RoleWord } from '../material/group-rules.ts';
import type { MoveMark } from '../material/shot-list.ts';
import { rowFinder } from './rows-by-lead.ts';
import { compareText } from './sorted.ts';
import type { SyncMark } from './sync-marks.ts';
import { markAt, marksInNotes, syncMarkName } from './sync-marks.ts';

/**
 * Finds the sync marks of a clip, by name: those of the move notes whose slate, take, camera and pass are the clip's and whose
 * timecode lies in it, and those in its own notes. A name that stands at two places in one clip is no mark.
 */
export function markFinder(marks: readonly MoveMark[], roleWords: readonly RoleWord[]): (clip: Clip) => ReadonlyMap<string, SyncMark> {
  const rowsOf = rowFinder(marks.filter(({ mark, tc }) => tc !== undefined && syncMarkName(mark) !== undefined));
  const roles = new Map(roleWords.map(({ word, role }) => [word.toLowerCase(), role]));
  const known = new Map<ClipId, ReadonlyMap<string, SyncMark>>();
  return (clip) => {
    if (marks.length === 0 && clip.notes.length === 0) return NONE;
    const before = known.get(clip.id);
    if (before !== undefined) return before;
    const found = byName([...marksInRows(clip, rowsOf, roles), ...marksInNotes(clip)]);
    known.set(clip.id, found);
    return found;
  };
}

const NONE: ReadonlyMap<string, SyncMark> = new Map();

interface NamedMark {
  readonly name: string;
  readonly mark: SyncMark;
}

/** A pass slated for another set-up is noted under either slate. */
function marksInRows(clip: Clip, rowsOf: (clip: Clip) => readonly MoveMark[], roles: ReadonlyMap<string, Role>): readonly NamedMark[] {
  const rows = [...rowsOf(clip), ...(clip.forSlate === undefined ? [] : rowsOf({ ...clip, slate: clip.forSlate }))];
  return rows.flatMap((row) => {
    const pass = row.pass.trim().toLowerCase();
    const role = roles.get(pass) ?? pass;
    const mark = pass === '' || role === clip.role ? markAt(clip, row.tc ?? '', row.from) : undefined;
    const name = syncMarkName(row.mark);
    return mark === undefined || name === undefined ? [] : [{ name, mark }];
  });
}

function byName(marks: readonly NamedMark[]): ReadonlyMap<string, SyncMark> {
  const sorted = marks.toSorted((a, b) => compareText(a.mark.from, b.mark.from));
  const found = new Map(sorted.map(({ name, mark }) => [name, mark]));
  for (const { name, mark } of sorted) if (found.get(name)?.frame !== mark.frame) found.delete(name);
  return found;
}
