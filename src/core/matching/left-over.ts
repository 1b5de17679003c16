import type { Clip, ClipId, Role } from '../material/clip.ts';
import type { LeadMatch, MatchedSet, PassMatch, PlateSet } from '../material/plate-set.ts';
import type { PairCorrections } from './pair-corrections.ts';
import { correctionText } from './pair-corrections.ts';
import { passName, roleText } from './pass-name.ts';
import { sameRecording } from './same-recording.ts';
import { compareText } from './sorted.ts';

/** Every pass matched to a lead. */
export function passesOf({ swapped, clean, elements, references }: LeadMatch): readonly PassMatch[] {
  return [...(swapped === undefined ? [] : [swapped]), ...(clean === undefined ? [] : [clean]), ...elements, ...references];
}

/** What is needed to say why a pass stands beside no lead. */
export interface LeftOverKnowledge {
  readonly roleOf: (clip: Clip) => Role;
  readonly clipOf: (id: ClipId) => Clip | undefined;
  /** Matched to a lead of any set. */
  readonly matched: ReadonlySet<ClipId>;
  readonly corrections: Pick<PairCorrections, 'forbidden'>;
}

/** The usable passes of a set that stand beside no lead, by file, each with the reason. */
export function leftOverOf(set: PlateSet, leads: readonly Clip[], matches: readonly LeadMatch[], known: LeftOverKnowledge): MatchedSet['leftOver'] {
  return set.clips
    .filter((clip) => clip.usable && known.roleOf(clip) !== 'lead' && !known.matched.has(clip.id))
    .map((clip) => ({ clip: clip.id, why: whyLeft(clip, set, leads, matches, known) }))
    .toSorted((a, b) => compareText(a.clip, b.clip));
}

function whyLeft(clip: Clip, set: PlateSet, leads: readonly Clip[], matches: readonly LeadMatch[], known: LeftOverKnowledge): string {
  const role = known.roleOf(clip);
  if (leads.length === 0) return `${set.slate} on camera ${set.camera} has no lead take that can be used`;
  if (role === 'unknown') return 'nothing tells which pass it is';
  const forbidden = leads.map((lead) => known.corrections.forbidden(lead.id, clip.id));
  const [first] = forbidden;
  if (first !== undefined && !forbidden.includes(undefined)) return `forbidden by hand beside every lead take ${correctionText(first)}`;
  const chosen = new Set(matches.flatMap((match) => passesOf(match)).filter((match) => match.role === role).map((match) => match.clip));
  const clips = [...chosen].toSorted(compareText).flatMap((id) => known.clipOf(id) ?? []);
  const original = clips.find((one) => sameRecording(one, clip));
  if (original !== undefined) return `a copy of ${passName(original)}, which was chosen`;
  const names = clips.map(passName);
  if (names.length === 0) return 'slated for a lead take that is not there';
  const shown = names.length > 3 ? `${names.slice(0, 3).join(', ')} and ${names.length - 3} more` : names.join(', ');
  return `another ${roleText(role)} was chosen for every lead take: ${shown}`;
}
