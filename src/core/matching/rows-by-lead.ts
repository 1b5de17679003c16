import { foldSlate } from '../coverage/shot-of-lead.ts';
import type { Clip } from '../material/clip.ts';
import type { ShotRow } from '../material/shot-list.ts';
import { setUpKey } from '../slate/slate.ts';
import { groupBy } from './sorted.ts';

/** What a row says of the clip it is about. */
export type SlatedRow = Pick<ShotRow, 'slate' | 'take' | 'camera'>;

/** Finds the rows that name a clip by its slate, in their order: those `namesLead` says, without asking it about all of them. */
export function rowFinder<R extends SlatedRow>(rows: readonly R[]): (clip: Clip) => readonly R[] {
  if (rows.length === 0) return () => [];
  const fold = remembered(foldSlate);
  const bySlate = groupBy(rows.map((row, place) => ({ row, place })), ({ row }) => fold(row.slate));
  return ({ slate, camera = '' }) => {
    if (slate === undefined) return [];
    const setUp = setUpKey(slate);
    const written = new Set([setUp, `${setUp} ${slate.take ?? ''}`, slate.text].map(fold));
    return [...written]
      .flatMap((key) => bySlate.get(key) ?? [])
      .filter(({ row }) => (row.take === undefined || row.take === slate.take) && (row.camera === undefined || fold(row.camera) === fold(camera)))
      .toSorted((a, b) => a.place - b.place)
      .map(({ row }) => row);
  };
}

/** One set-up is asked for many times. */
function remembered(fold: (text: string) => string): (text: string) => string {
  const known = new Map<string, string>();
  return (text) => {
    const before = known.get(text);
    if (before !== undefined) return before;
    const folded = fold(text);
    known.set(text, folded);
    return folded;
  };
}
