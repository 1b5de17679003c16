import type { Clip, Role, RoleEvidence } from '../material/clip.ts';
import { setUpKey } from '../slate/slate.ts';
import { compareText } from './sorted.ts';

/** Roles that stand opposite the lead: where the slate itself marks these, what it leaves unmarked is the lead. */
const OPPOSITE: readonly Role[] = ['swapped', 'element'];

/** Well above a guess, below every word that names a role (common practice, no source). */
const WEIGHT = 0.7;

/**
 * The practice of slating passes by a suffix ("27B-SW") or by a set-up of their own ("27C, for 27B") leaves the lead pass with the plain
 * slate. So where the slates of a set mark an opposite pass and no lead, clips on the plain slate that nothing else speaks of are the lead.
 */
export function leadsByPlainSlate(clips: readonly Clip[], setUp: string): readonly Clip[] {
  const marked = clips.filter((clip) => OPPOSITE.includes(clip.role) && markOf(clip) !== undefined);
  const [example] = marked.flatMap((clip) => markOf(clip) ?? []).toSorted(compareText);
  if (example === undefined || clips.some(({ role, roleEvidence }) => role === 'lead' && roleEvidence.some(({ kind }) => kind !== 'order'))) return clips;
  // The practice is one for all: an opposite pass on the plain slate says the log names the passes here.
  if (clips.some((clip) => OPPOSITE.includes(clip.role) && markOf(clip) === undefined)) return clips;
  const words = `slated ${setUp} without a mark, where ${example} is marked: the lead pass`;
  const evidence: RoleEvidence = { role: 'lead', kind: 'slate', weight: WEIGHT, words };
  return clips.map((clip) => {
    if (clip.role !== 'unknown' || clip.roleEvidence.length > 0 || !isPlain(clip, setUp)) return clip;
    return { ...clip, role: 'lead', roleEvidence: [evidence], roleConfidence: WEIGHT };
  });
}

/** How the slate of a clip sets it apart: its suffix, or the set-up it is slated for. */
function markOf({ slate, forSlate }: Clip): string | undefined {
  if (slate === undefined) return undefined;
  if (slate.suffix !== '') return slate.text;
  return forSlate === undefined || setUpKey(forSlate) === setUpKey(slate) ? undefined : `${slate.text} for ${setUpKey(forSlate)}`;
}

function isPlain({ slate, forSlate }: Clip, setUp: string): boolean {
  return slate !== undefined && slate.suffix === '' && forSlate === undefined && setUpKey(slate) === setUp.toUpperCase();
}
