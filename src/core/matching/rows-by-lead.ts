import { foldSlate, namesLead } from '../coverage/shot-of-lead.ts';
import type { Clip } from '../material/clip.ts';
import type { ShotRow } from '../material/shot-list.ts';
import { setUpKey } from '../slate/slate.ts';
import { groupBy } from './sorted.ts';

/** What a row says of the clip it is about. */
export type SlatedRow = Pick<ShotRow, 'slate' | 'take' | 'camera'>;

/** Finds the rows that name a clip by its slate, in their order: those `namesLead` says, without asking it about all of them. */
export function rowFinder<R extends SlatedRow>(rows: readonly R[]): (clip: Clip) => readonly R[] {
  if (rows.length === 0) return () => [];
  const placed = rows.map((row, place) => ({ row, place }));
  const bySlate = groupBy(placed, ({ row }) => foldSlate(row.slate));
  return (clip) => {
    if (clip.slate === undefined) return [];
    const setUp = setUpKey(clip.slate);
    const written = new Set([setUp, `${setUp} ${clip.slate.take ?? ''}`, clip.slate.text].map(foldSlate));
    return [...written]
      .flatMap((slate) => bySlate.get(slate) ?? [])
      .filter(({ row }) => namesLead(row, clip))
      .toSorted((a, b) => a.place - b.place)
      .map(({ row }) => row);
  };
}
