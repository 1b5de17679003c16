import type { SlatedRow } from '../matching/rows-by-lead.ts';
import { rowFinder } from '../matching/rows-by-lead.ts';
import type { Clip } from '../material/clip.ts';

/**
 * Finds the rows of a list that name the set-up of any of some clips, in the order of the list. Takes are left aside: a row for
 * a take that is not there belongs to the set-up all the same. A clip slated "for 27B" answers to both slates.
 */
export function rowsOfClips<Row extends SlatedRow>(rows: readonly Row[]): (clips: readonly Clip[]) => readonly Row[] {
  const find = rowFinder(rows.map(({ slate, camera }, place) => ({ slate, place, ...(camera === undefined ? {} : { camera }) })));
  return (clips) => {
    const places = new Set(clips.flatMap(slatesOf).flatMap((clip) => find(clip).map(({ place }) => place)));
    return [...places].sort((a, b) => a - b).flatMap((place) => rows[place] ?? []);
  };
}

/** A clip under its own slate and under the one it says it is for. */
function slatesOf(clip: Clip): readonly Clip[] {
  return clip.forSlate === undefined ? [clip] : [clip, { ...clip, slate: clip.forSlate }];
}
