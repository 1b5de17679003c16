import type { Clip, Role } from '../material/clip.ts';
import type { Finding, Severity } from '../material/finding.ts';
import { passesOf } from '../matching/left-over.ts';
import type { Method } from '../material/method.ts';
import type { LeadMatch, MatchedSet } from '../material/plate-set.ts';
import type { ShotRow } from '../material/shot-list.ts';
import type { ClipOf } from './check-rules.ts';
import type { Belonging, MissingPass } from './faults.ts';
import { listed, roleName } from './passes.ts';
import { raise } from './raise.ts';

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
export function isUnnamed({ set, matches }: Pick<MatchedSet, 'set' | 'matches'>): boolean {
  return matches.length === 0 && set.clips.every(({ role }) => role === 'unknown');
}

function isFilled(role: Role, there: ReadonlySet<Role>, method: Method): boolean {
  return there.has(role) || (role === 'swapped' && method.elementReplacesSwapped && there.has('element'));
}

/** No lead pass at all: every other pass of the set then waits for it. */
export function checkLeadPass({ set, matches }: MatchedSet, belongs?: Belonging): readonly Finding[] {
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
      ...(belongs === undefined ? {} : { belongs }),
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
export function checkLeadHasPasses(matched: MatchedSet, match: LeadMatch, lead: Clip, setLacks: readonly Role[], { clipOf, minCleanFrames }: MissingAround): readonly Finding[] {
  const { method } = matched.set;
  const there = new Set(passesOf(match).map(({ role }) => role));
  const lacks = [...method.required, ...method.wanted].filter((role) => role !== 'lead' && !isFilled(role, there, method));
  const chosen = lead.circled === true || matched.matches.length === 1;
  return distinctCodes(lacks).map((role) => {
    const required = method.required.includes(role) && (chosen || setLacks.includes(role));
    const proposed = matched.proposed.find((one) => one.lead === lead.id && one.role === role);
    const clip = proposed === undefined ? undefined : clipOf(proposed.clip);
    return raiseMissing(matched, role, required ? 'stop' : 'warn', { lead, minCleanFrames, ...(clip === undefined ? {} : { proposed: clip }) });
  });
}

/** What a missing pass must know of the day around it. */
interface MissingAround {
  readonly clipOf: ClipOf;
  readonly minCleanFrames: number;
}

/** Passes that a set without any lead lacks besides the lead. */
export function checkSetHasPasses(matched: MatchedSet, setLacks: readonly Role[], minCleanFrames: number, belongs?: Belonging): readonly Finding[] {
  const { required } = matched.set.method;
  const lacks = setLacks.filter((role) => role !== 'lead');
  return distinctCodes(lacks).map((role) => raiseMissing(matched, role, required.includes(role) ? 'stop' : 'warn', { minCleanFrames, ...(belongs === undefined ? {} : { belongs }) }));
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

function raiseMissing({ set }: MatchedSet, role: Role, severity: Severity, known: Pick<MissingPass, 'lead' | 'minCleanFrames' | 'proposed' | 'belongs'>): Finding {
  const { lead } = known;
  const what = role === 'reference' && set.method.references.length > 0 ? `reference (${listed(set.method.references)})` : roleName(role);
  return raise({
    code: MISSING[role] ?? 'missing-reference',
    severity,
    subject: lead === undefined ? set.clips.filter(({ usable }) => usable) : [lead],
    unread: set.clips.filter((clip) => !clip.usable && (clip.role === role || clip.role === 'unknown')),
    role,
    set,
    ...known,
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
      minCleanFrames: 0,
      unread: [],
      measured: { value: `${there} of ${asked}`, unit: '' },
      allowed: { value: `${asked}`, unit: '' },
      evidence: [`method ${set.method.name}: ${set.methodFrom}`],
    }),
  ];
}
