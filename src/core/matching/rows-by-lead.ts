import { namesLead } from '../coverage/shot-of-lead.ts';
import type { Clip } from '../material/clip.ts';
import type { ShotRow } from '../material/shot-list.ts';
import { setUpKey } from '../slate/slate.ts';
import { groupBy } from './sorted.ts';

/** What a row says of the clip it is about. */
export type SlatedRow = Pick<ShotRow, 'slate' | 'take' | 'camera'>;

/** Finds the rows that name a clip by its slate (see `namesLead`), in their order, without looking at all of them. */
export function rowFinder<R extends SlatedRow>(rows: readonly R[]): (clip: Clip) => readonly R[] {
  if (rows.length === 0) return () => [];
  const numbered = rows.map((row, place) => ({ row, place }));
  const byNumber = groupBy(numbered, ({ row }) => firstNumber(row.slate));
  return (clip) => {
    if (clip.slate === undefined) return [];
    const setUp = setUpKey(clip.slate);
    const keys = new Set([setUp, `${setUp}${clip.slate.take ?? ''}`, clip.slate.text].map(firstNumber));
    return [...keys]
      .flatMap((key) => byNumber.get(key) ?? [])
      .filter(({ row }) => namesLead(row, clip))
      .toSorted((a, b) => a.place - b.place)
      .map(({ row }) => row);
  };
}

/** "27" of "27B-3": however a slate is written, two that are alike begin with one number. */
function firstNumber(slate: string): string {
  return /\d+/.exec(slate.replace(/[^\p{L}\p{N}]/gu, ''))?.[0] ?? '';
}
