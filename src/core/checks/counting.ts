import type { Clip, ClipId, Role } from '../material/clip.ts';
import type { Finding, Severity } from '../material/finding.ts';
import type { NeededRange } from '../coverage/coverage.ts';
import { namesLead } from '../coverage/shot-of-lead.ts';
import type { ShotRow } from '../material/shot-list.ts';
import type { LeadCase } from './lead-case.ts';
import { clipName } from './passes.ts';
import { lowered } from './severity.ts';

/** By what a set is judged: the leads that count and the passes matched to them. */
export interface Counting {
  readonly leads: ReadonlySet<ClipId>;
  readonly clips: ReadonlySet<ClipId>;
  /** Whether somebody chose those leads (circled, or used by a shot); else all leads count. */
  readonly chosen: boolean;
  /** Roles that nothing usable fills. */
  readonly setLacks: readonly Role[];
}

/** Circled leads and leads that a shot uses; all, when nobody chose any. */
export function countingOf(cases: readonly LeadCase[], shots: readonly ShotRow[], setLacks: readonly Role[]): Counting {
  const chosen = cases.filter(({ lead, needed }) => lead.circled === true || isInShot(lead, needed, shots));
  const counting = chosen.length > 0 ? chosen : cases;
  return {
    leads: new Set(counting.map(({ lead }) => lead.id)),
    clips: new Set(counting.flatMap(({ lead, passes }) => [lead.id, ...passes.map(({ passes: { pass } }) => pass.id)])),
    chosen: chosen.length > 0,
    setLacks,
  };
}

function isInShot(lead: Clip, needed: readonly NeededRange[], shots: readonly ShotRow[]): boolean {
  return needed.some(({ basis }) => basis !== 'lead-take') || shots.some((row) => row.take !== undefined && namesLead(row, lead));
}

/** A finding about one lead and what is matched to it: in full for a lead that counts, else a note. */
export function weighLead(finding: Finding, lead: Clip, { leads }: Counting): Finding {
  if (leads.has(lead.id)) return finding;
  return lowered(finding, 'note', `${clipName(lead)} is not a take the set is judged by: another is circled or in a shot`);
}

/** A finding about clips of the set: in full when one of them counts, else a note. */
export function weighClips(finding: Finding, { clips }: Counting): Finding {
  if (finding.subject.length === 0 || finding.subject.some((id) => clips.has(id))) return finding;
  return lowered(finding, 'note', 'nothing that the set is judged by depends on it');
}

/** A finding about the reading of one clip. One that cannot be judged counts as far as the set may need it. */
export function weighReading(finding: Finding, clip: Clip, counting: Counting): Finding {
  if (clip.usable) return weighClips(finding, counting);
  const [worst, why] = needOf(clip, counting);
  return lowered(finding, worst, why);
}

function needOf({ circled, role }: Clip, { leads, chosen, setLacks }: Counting): readonly [Severity, string] {
  if (circled === true || leads.size === 0) return ['stop', ''];
  if (setLacks.includes(role) || (role === 'unknown' && setLacks.length > 0)) return ['stop', ''];
  if (role === 'lead' && chosen) return ['note', 'another lead take is circled or in a shot'];
  return ['warn', 'every pass that is needed is there without it'];
}
