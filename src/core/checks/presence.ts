import type { Clip, ClipId, Role } from '../material/clip.ts';
import type { Finding, Severity } from '../material/finding.ts';
import { passesOf } from '../matching/left-over.ts';
import type { Method } from '../material/method.ts';
import type { LeadMatch, MatchedSet, PassMatch } from '../material/plate-set.ts';
import { roleConflict } from '../material/role-evidence.ts';
import type { ShotRow } from '../material/shot-list.ts';
import { figure } from './evidence.ts';
import type { MissingPass } from './faults.ts';
import { clipName, listed, roleName } from './passes.ts';
import { raise } from './raise.ts';

/** Finds a clip of the day by its id. */
export type ClipOf = (id: ClipId) => Clip | undefined;

/** Roles of the method that no usable pass of the set fills, required ones first. */
export function missingRoles(matched: MatchedSet, clipOf: ClipOf): readonly Role[] {
  if (isUnnamed(matched)) return [];
  const there = new Set(matched.set.clips.filter(({ usable }) => usable).map(({ role }) => role));
  // Who is a lead, matching has decided: a person may have confirmed it.
  there.delete('lead');
  for (const match of matched.matches) {
    there.add('lead');
    for (const pass of passesOf(match)) if (clipOf(pass.clip)?.usable === true) there.add(pass.role);
  }
  const { required, wanted } = matched.set.method;
  return [...required, ...wanted].filter((role) => !isFilled(role, there, matched.set.method));
}

/** An ordinary shot of the day, of which nobody says that it is a pass of anything: it lacks nothing, but somebody must say so. */
function isUnnamed({ set, matches }: Pick<MatchedSet, 'set' | 'matches'>): boolean {
  return matches.length === 0 && set.clips.every(({ role }) => role === 'unknown');
}

function isFilled(role: Role, there: ReadonlySet<Role>, method: Method): boolean {
  return there.has(role) || (role === 'swapped' && method.elementReplacesSwapped && there.has('element'));
}

/** No lead pass at all: every other pass of the set then waits for it. */
export function checkLeadPass({ set, matches }: MatchedSet): readonly Finding[] {
  if (matches.length > 0 || !set.method.required.includes('lead') || isUnnamed({ set, matches })) return [];
  const waiting = set.clips.filter(({ usable }) => usable);
  return [
    raise({
      code: 'missing-lead-pass',
      severity: 'stop',
      subject: waiting,
      slate: set.slate,
      camera: set.camera,
      shot: '',
      measured: { value: 'none', unit: '' },
      allowed: { value: 'one lead pass', unit: '' },
      evidence: [`method ${set.method.name}: ${set.methodFrom}`],
    }),
  ];
}

/** A shot of the shot list whose take is not there. */
export function checkShotHasLead(row: ShotRow, severity: Severity): Finding {
  return raise({
    code: 'missing-lead-pass',
    severity,
    subject: [],
    slate: row.take === undefined ? row.slate : `${row.slate} take ${row.take}`,
    camera: row.camera ?? '',
    shot: row.shot,
    measured: { value: 'none', unit: '' },
    allowed: { value: 'one lead pass', unit: '' },
    evidence: [row.from],
  });
}

/**
 * Passes that a lead lacks. Required ones are a `stop` when nothing in the set fills the role, or when the lead is the take the
 * crew chose; a lead among several of which nobody chose one is a `warn`, since another may be used.
 */
export function checkLeadHasPasses(matched: MatchedSet, match: LeadMatch, lead: Clip, setLacks: readonly Role[]): readonly Finding[] {
  const { method } = matched.set;
  const there = new Set(passesOf(match).map(({ role }) => role));
  const lacks = [...method.required, ...method.wanted].filter((role) => role !== 'lead' && !isFilled(role, there, method));
  const chosen = lead.circled === true || matched.matches.length === 1;
  return distinctCodes(lacks).map((role) => {
    const required = method.required.includes(role) && (chosen || setLacks.includes(role));
    return raiseMissing(matched, lead, role, required ? 'stop' : 'warn');
  });
}

/** Passes that a set without any lead lacks besides the lead. */
export function checkSetHasPasses(matched: MatchedSet, setLacks: readonly Role[]): readonly Finding[] {
  const { required } = matched.set.method;
  const lacks = setLacks.filter((role) => role !== 'lead');
  return distinctCodes(lacks).map((role) => raiseMissing(matched, undefined, role, required.includes(role) ? 'stop' : 'warn'));
}

const MISSING: Readonly<Partial<Record<Role, MissingPass['code']>>> = {
  swapped: 'missing-swapped-pass',
  // An element is what stands for the swapped pass where the second role is shot alone.
  element: 'missing-swapped-pass',
  clean: 'missing-clean-plate',
  reference: 'missing-reference',
};

function distinctCodes(roles: readonly Role[]): readonly Role[] {
  const codes = roles.map((role) => MISSING[role]);
  return roles.filter((_role, place) => codes[place] !== undefined && codes.indexOf(codes[place]) === place);
}

function raiseMissing({ set }: MatchedSet, lead: Clip | undefined, role: Role, severity: Severity): Finding {
  const what = role === 'reference' && set.method.references.length > 0 ? `reference (${listed(set.method.references)})` : roleName(role);
  return raise({
    code: MISSING[role] ?? 'missing-reference',
    severity,
    subject: lead === undefined ? set.clips.filter(({ usable }) => usable) : [lead],
    unread: set.clips.filter((clip) => !clip.usable && (clip.role === role || clip.role === 'unknown')),
    role,
    set,
    ...(lead === undefined ? {} : { lead }),
    what,
    measured: { value: 'none', unit: '' },
    allowed: { value: `one ${what}`, unit: '' },
    evidence: [`method ${set.method.name}: ${set.methodFrom}`],
  });
}

/** Fewer reference clips than the method names. One clip may hold several (grey ball, then chrome ball), so it is a note. */
export function checkReferenceCount({ set }: MatchedSet, match: LeadMatch, lead: Clip): readonly Finding[] {
  const there = match.references.length;
  const asked = set.method.references.length;
  if (there === 0 || there >= asked) return [];
  const what = `reference (${listed(set.method.references)})`;
  return [
    raise({
      code: 'missing-reference',
      severity: 'note',
      subject: [lead],
      role: 'reference',
      set,
      lead,
      what,
      unread: [],
      measured: { value: `${there} of ${asked}`, unit: '' },
      allowed: { value: `${asked}`, unit: '' },
      evidence: [`method ${set.method.name}: ${set.methodFrom}`],
    }),
  ];
}

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
export function checkLeftOver({ set, matches, leftOver }: MatchedSet, threshold: number, clipOf: ClipOf): readonly Finding[] {
  // Without any lead, `missing-lead-pass` lists who waits.
  if (matches.length === 0 && set.method.required.includes('lead') && !isUnnamed({ set, matches })) return [];
  const lacking = new Set(matches.flatMap((match) => rolesLacking(match, set.method)));
  // The rival of an ambiguous match is told of there.
  const rivals = new Set(matches.flatMap(passesOf).flatMap((match) => (isAmbiguous(match, threshold) ? [match.runnerUp?.clip] : [])));
  return leftOver.flatMap(({ clip: id, why }) => {
    const clip = rivals.has(id) ? undefined : clipOf(id);
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
