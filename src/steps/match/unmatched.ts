import type { Clip, ClipId, Role } from '../../core/material/clip.ts';
import type { GroupedDay } from '../../core/material/day.ts';
import type { LeadMatch, MatchedSet, PlateSet } from '../../core/material/plate-set.ts';
import type { SetMatches } from '../../core/matching/match-set.ts';
import type { SparePass, WantingLead } from '../../core/matching/propose.ts';
import { hasClock } from '../../core/matching/recording-clock.ts';

/** One set after its own passes were matched. */
export interface SetOutcome extends SetMatches {
  readonly set: PlateSet;
  readonly leftOver: MatchedSet['leftOver'];
}

/** Roles of which a misread slate can rob a lead; the others are looked for in no other set. */
const LOOKED_FOR: readonly Role[] = ['swapped', 'clean'];

/** The lead takes that count (circled ones, all if none is) and lack a pass their method asks for, once for each role. */
export function wantingLeads(outcomes: readonly SetOutcome[]): readonly WantingLead[] {
  return outcomes.flatMap(({ set, leads, matches, recording }) => {
    const circled = leads.filter((lead) => lead.circled === true);
    const counting = new Set((circled.length > 0 ? circled : leads).map(({ id }) => id));
    const clips = new Map(leads.map((lead) => [lead.id, lead]));
    return matches.flatMap((match) => {
      const clip = clips.get(match.lead);
      if (clip === undefined || !counting.has(match.lead)) return [];
      return LOOKED_FOR.filter((role) => lacks(match, role, set)).map((role) => ({ setId: set.id, clip, role, clockTrusted: recording.clockTrusted }));
    });
  });
}

function lacks(match: LeadMatch, role: Role, { method }: PlateSet): boolean {
  if (!method.required.includes(role) && !method.wanted.includes(role)) return false;
  if (role === 'clean') return match.clean === undefined;
  return match.swapped === undefined && !(method.elementReplacesSwapped && match.elements.length > 0);
}

/** Passes left over in their sets, and passes that are in no set but whose role is known. */
export function sparePasses(day: GroupedDay, outcomes: readonly SetOutcome[], clips: ReadonlyMap<ClipId, Clip>): readonly SparePass[] {
  const left = outcomes.flatMap(({ set, leads, leftOver, recording }) => {
    const { clockTrusted } = recording;
    const cutOff = set.clips.filter(({ usable, role }) => !usable && role === 'lead');
    const ownLeads = [...leads, ...cutOff].map((clip) => ({ clip, clockTrusted }));
    return leftOver.flatMap(({ clip: id }) => clips.get(id) ?? []).map((clip) => ({ clip, clockTrusted, setId: set.id, ownLeads }));
  });
  const unplaced = day.unplaced.flatMap(({ clip: id }) => {
    const clip = clips.get(id);
    return clip === undefined || !clip.usable ? [] : [{ clip, clockTrusted: hasClock(clip), setId: undefined, ownLeads: [] }];
  });
  return [...left, ...unplaced].filter(({ clip }) => LOOKED_FOR.includes(clip.role));
}
