import type { Clip } from '../material/clip.ts';
import { namesLead } from '../coverage/shot-of-lead.ts';
import { setUpKey } from '../slate/slate.ts';

/** Rows of a list that names clips by slate. */
export interface SlatedRow {
  readonly slate: string;
  readonly take?: number;
  readonly camera?: string;
}

/**
 * Finds the rows that name any of some clips, in the order of the list. With `anyTake` the take is left aside. Rows are looked
 * up by slate, so that a thousand rows and ten thousand clips are not held against each other one by one.
 */
export function indexRows<Row extends SlatedRow>(rows: readonly Row[], anyTake: boolean): (clips: readonly Clip[]) => readonly Row[] {
  const places = new Map<string, number[]>();
  rows.forEach((row, place) => {
    for (const key of keysOfRow(row)) {
      const known = places.get(key);
      if (known === undefined) places.set(key, [place]);
      else known.push(place);
    }
  });
  return (clips) => {
    const found = new Set<number>();
    for (const clip of clips) {
      for (const place of keysOfClip(clip).flatMap((key) => places.get(key) ?? [])) {
        const row = rows[place];
        if (row !== undefined && namesLead(anyTake ? withoutTake(row) : row, clip)) found.add(place);
      }
    }
    return [...found].sort((a, b) => a - b).flatMap((place) => rows[place] ?? []);
  };
}

function withoutTake({ slate, camera }: SlatedRow): SlatedRow {
  return camera === undefined ? { slate } : { slate, camera };
}

/** More rows than are meant may share a key; `namesLead` decides. */
function keysOfRow({ slate }: SlatedRow): ReadonlySet<string> {
  return new Set([folded(slate), folded(slate).replace(/^(SLATE|SCENE)(?=[A-Z0-9])/, '')]);
}

function keysOfClip({ slate }: Clip): readonly string[] {
  if (slate === undefined) return [];
  const setUp = folded(setUpKey(slate));
  return [...new Set([setUp, `${setUp}${slate.take ?? ''}`, folded(slate.text)])];
}

function folded(text: string): string {
  return text.normalize('NFC').toUpperCase().replaceAll(/[^\p{L}\p{N}]/gu, '');
}
