import type { Clip, ClipId } from '../../core/material/clip.ts';
import type { GroupedDay } from '../../core/material/day.ts';
import type { PlateSet } from '../../core/material/plate-set.ts';
import type { PairCorrections } from '../../core/matching/pair-corrections.ts';
import { recordingOf } from '../../core/matching/recording.ts';
import { compareText } from '../../core/matching/sorted.ts';

/**
 * Moves each pass that a person confirmed for a lead of another set into that set: a misread slate put right. A pass that was
 * unplaced moves too. One whose own set has a lead take stays at home and is lent, since its own leads may need it as well.
 * A set that is left empty goes.
 */
export function moveConfirmed(day: GroupedDay, corrections: PairCorrections, roleOf: (clip: Clip) => string): GroupedDay {
  if (corrections.confirmedPairs.length === 0) return day;
  const setOf = new Map(day.sets.flatMap((set) => set.clips.map((clip) => [clip.id, set.id])));
  const withLead = new Set(day.sets.filter((set) => set.clips.some((clip) => clip.usable && roleOf(clip) === 'lead')).map(({ id }) => id));
  const moves = new Map<ClipId, string>();
  for (const { lead, clip } of corrections.confirmedPairs) {
    const from = setOf.get(clip);
    const to = setOf.get(lead);
    if (to === undefined || to === from || moves.has(clip) || (from !== undefined && withLead.has(from))) continue;
    moves.set(clip, to);
  }
  if (moves.size === 0) return day;
  const coming = day.clips.filter(({ id }) => moves.has(id));
  const sets = day.sets.map((set) => rearranged(set, coming.filter(({ id }) => moves.get(id) === set.id), moves)).filter(({ clips }) => clips.length > 0);
  return { ...day, sets, unplaced: day.unplaced.filter(({ clip }) => !moves.has(clip)) };
}

function rearranged(set: PlateSet, coming: readonly Clip[], moves: ReadonlyMap<ClipId, string>): PlateSet {
  const staying = set.clips.filter(({ id }) => !moves.has(id));
  if (coming.length === 0) return staying.length === set.clips.length ? set : { ...set, clips: staying };
  const clips = [...staying, ...coming];
  const { placeOf } = recordingOf(clips);
  // Unusable clips have no place in the recording order and come last.
  const place = ({ id }: Clip): number => placeOf.get(id) ?? clips.length;
  return { ...set, clips: clips.toSorted((a, b) => place(a) - place(b) || compareText(a.id, b.id)) };
}
