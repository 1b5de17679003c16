import type { Clip, Role } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import { passesOf } from '../matching/left-over.ts';
import type { Method } from '../material/method.ts';
import type { LeadMatch, MatchedSet, PassMatch } from '../material/plate-set.ts';
import { roleConflict } from '../material/role-evidence.ts';
import type { ClipOf, DayAround } from './check-rules.ts';
import { findDuplicates } from './duplicates.ts';
import { figure } from './evidence.ts';
import { clipName, roleName } from './passes.ts';
import { isUnnamed } from './presence.ts';
import { raise } from './raise.ts';

/** A match that another pass would have made nearly as well, so that the wrong take may travel. */
export function checkAmbiguity(lead: Clip, match: PassMatch, threshold: number, clipOf: ClipOf): readonly Finding[] {
  const chosen = clipOf(match.clip);
  const runnerUp = match.runnerUp === undefined ? undefined : clipOf(match.runnerUp.clip);
  if (chosen === undefined || runnerUp === undefined || match.margin === undefined || !isAmbiguous(match, threshold)) return [];
  return [
    raise({
      code: 'ambiguous-match',
      severity: match.role === 'reference' ? 'note' : 'warn',
      subject: [lead, chosen, runnerUp],
      lead,
      chosen,
      runnerUp,
      role: match.role,
      measured: { value: figure(match.margin, 3), unit: '' },
      allowed: { value: threshold, unit: '' },
      evidence: [`cost ${figure(match.cost, 3)} against ${figure(match.cost + match.margin, 3)}`, ...match.terms.map(({ words }) => words)],
    }),
  ];
}

function isAmbiguous({ margin, confirmed }: PassMatch, threshold: number): boolean {
  return margin !== undefined && margin < threshold && !confirmed;
}

/** Matches across set-ups, for a person to take or leave. */
export function checkProposals({ proposed }: MatchedSet, clipOf: ClipOf): readonly Finding[] {
  return proposed.flatMap((proposal) => {
    const lead = clipOf(proposal.lead);
    const clip = clipOf(proposal.clip);
    if (lead === undefined || clip === undefined) return [];
    return [
      raise({
        code: 'proposed-match',
        severity: 'warn',
        subject: [lead, clip],
        lead,
        clip,
        proposal,
        measured: { value: clip.slate?.text ?? 'no slate', unit: '' },
        allowed: { value: lead.slate?.text ?? 'no slate', unit: '' },
        evidence: [proposal.why],
      }),
    ];
  });
}

/** Passes of the set beside no lead. Spare ones are notes; one that might fill a role somebody lacks, or that nobody named, is a `warn`. */
export function checkLeftOver({ set, matches, leftOver }: MatchedSet, threshold: number, { clipOf, twins }: Pick<DayAround, 'clipOf' | 'twins'>): readonly Finding[] {
  // Without any lead, `missing-lead-pass` lists who waits.
  if (matches.length === 0 && set.method.required.includes('lead') && !isUnnamed({ set, matches })) return [];
  const lacking = new Set(matches.flatMap((match) => rolesLacking(match, set.method)));
  // The rival of an ambiguous match is told of there.
  const rivals = matches.flatMap(passesOf).flatMap((match) => (isAmbiguous(match, threshold) ? [match.runnerUp?.clip] : []));
  // So are second copies of a recording, by `duplicate-clip`.
  const told = new Set([...rivals, ...findDuplicates(set.clips.filter(({ id }) => twins.has(id))).map(({ second }) => second.id)]);
  return leftOver.flatMap(({ clip: id, why }) => {
    const clip = told.has(id) ? undefined : clipOf(id);
    // Of a clip that is called two things `role-conflict` tells.
    if (clip === undefined || !clip.usable || (clip.role === 'unknown' && roleConflict(clip) !== undefined)) return [];
    return [raiseUnmatched(clip, why, clip.role === 'unknown' || lacking.has(clip.role))];
  });
}

function rolesLacking(match: LeadMatch, { required, wanted }: Method): readonly Role[] {
  const there = new Set(passesOf(match).map(({ role }) => role));
  return [...required, ...wanted].filter((role) => !there.has(role));
}

/** A clip that is beside no lead. `needed` when it might be a pass that somebody waits for. */
export function raiseUnmatched(clip: Clip, why: string, needed: boolean): Finding {
  return raise({
    code: 'unmatched-pass',
    severity: needed ? 'warn' : 'note',
    subject: [clip],
    clip,
    why,
    needed,
    measured: { value: roleName(clip.role), unit: '' },
    allowed: { value: 'a pass beside a lead take', unit: '' },
    evidence: clip.roleEvidence.length === 0 ? [`${clipName(clip)}: nothing says what it is`] : clip.roleEvidence.map(({ words }) => words),
  });
}

/** A day on which nothing is called anything: no set can be formed, and that must be said once. */
export function raiseNothingNamed(clips: readonly Clip[]): Finding {
  return raise({
    code: 'unmatched-pass',
    severity: 'warn',
    subject: clips,
    clip: undefined,
    why: '',
    needed: true,
    measured: { value: 'no pass named', unit: '' },
    allowed: { value: 'passes that are named', unit: '' },
    evidence: [`${clips.length} clips, none called a pass in a log, on a slate, in a note or by its name`],
  });
}
