import type { Clip, ClipId } from '../material/clip.ts';
import type { Recording } from './recording.ts';

/** Tells whether another lead take was recorded after the one and before the other clip. */
export function leadsBetween({ order, placeOf }: Recording, leads: readonly Clip[]): (lead: Clip, clip: Clip) => boolean {
  const isLead = new Set<ClipId>(leads.map(({ id }) => id));
  // How many lead takes were recorded before each place.
  const before: number[] = [0];
  for (const { id } of order) before.push((before.at(-1) ?? 0) + (isLead.has(id) ? 1 : 0));
  const leadsUpTo = (place: number): number => before[place] ?? 0;
  return (lead, clip) => {
    const from = (placeOf.get(lead.id) ?? 0) + 1;
    const to = placeOf.get(clip.id) ?? 0;
    return leadsUpTo(to) - leadsUpTo(from) > 0;
  };
}
