import type { Clip, Role, RoleEvidence } from './clip.ts';
import type { ReadingProblem } from './finding.ts';
import type { StatedSlate } from './resolve-slate.ts';
import type { RoleMention, RoleReader } from './role-words.ts';
import type { Source, SourceKind } from './statement.ts';
import type { SaidByField } from './trust.ts';
import { allOf, compareCodeUnits } from './trust.ts';

/** What speaks for the roles of a clip, strongest first, and pass columns that name none. */
export interface GatheredEvidence {
  readonly evidence: readonly RoleEvidence[];
  readonly problems: readonly ReadingProblem[];
}

/**
 * How much a kind of evidence weighs, and so how sure a role is that nothing contradicts: about how seldom it is wrong (common
 * practice, no source). Below 0.5 is a guess: shooting order, and notes that name several passes.
 */
export const ROLE_WEIGHTS = { correction: 1, log: 0.95, slate: 0.9, note: 0.75, name: 0.6, order: 0.3, severalInNote: 0.3 } as const;

/** A log is believed a little more than a sidecar, a sidecar than the file, so that they contradict but never tie. */
const LOG_WEIGHTS: Readonly<Record<SourceKind, number>> = {
  correction: ROLE_WEIGHTS.correction, report: ROLE_WEIGHTS.log, sidecar: 0.93, embedded: 0.92, note: ROLE_WEIGHTS.note, name: ROLE_WEIGHTS.name,
};

/** Evidence weaker by more than this is outvoted, not in conflict: a log beats a folder name. */
const COMPARABLE = 0.25;

/** Gathers what pass columns, slate suffixes, notes and names say. `corrected` is what a person decided, if anyone did. */
export function gatherRoleEvidence(
  said: SaidByField, slates: readonly StatedSlate[], file: string, corrected: readonly RoleEvidence[], reader: RoleReader,
): GatheredEvidence {
  const problems: ReadingProblem[] = [];
  const found = [...corrected];
  for (const { raw, source } of allOf(said, 'pass')) {
    const mentions = reader.named(raw);
    if (mentions.length === 0) problems.push(noRole(raw, source));
    found.push(...mentions.map(({ role }) => evidence(role, source.kind === 'name' ? 'name' : 'log', LOG_WEIGHTS[source.kind], source, raw)));
  }
  for (const { slate, statement } of slates) {
    const kind = statement.source.kind === 'name' ? 'name' : 'slate';
    found.push(...reader.named(slate.suffix).map(({ role }) => evidence(role, kind, ROLE_WEIGHTS[kind], statement.source, slate.text)));
  }
  for (const { value, source } of allOf(said, 'notes')) found.push(...noteEvidence(value, source, reader));
  found.push(...nameEvidence(file, reader));
  return { evidence: strongestFirst(found), problems };
}

/** The role that the strongest evidence names, `unknown` when two of equal strength disagree, and how sure it is (0..1). */
export function decideRole(evidence: readonly RoleEvidence[]): Pick<Clip, 'role' | 'roleConfidence'> {
  const [strongest] = evidence;
  if (strongest === undefined) return { role: 'unknown', roleConfidence: 0 };
  const conflict = roleConflict({ roleEvidence: evidence });
  if (conflict === undefined) return { role: strongest.role, roleConfidence: strongest.weight };
  // A contradicted role is no mere guess, but nothing better than even.
  return conflict.a.weight === conflict.b.weight ? { role: 'unknown', roleConfidence: 0 } : { role: strongest.role, roleConfidence: 0.5 };
}

/** The two strongest pieces of evidence that name different roles with comparable strength; a person's correction settles it. */
export function roleConflict({ roleEvidence }: Pick<Clip, 'roleEvidence'>): { readonly a: RoleEvidence; readonly b: RoleEvidence } | undefined {
  const [a] = roleEvidence;
  if (a === undefined || a.kind === 'correction' || a.kind === 'order') return undefined;
  const b = roleEvidence.find(({ role, kind, weight }) => role !== a.role && kind !== 'order' && a.weight - weight <= COMPARABLE + 1e-9);
  return b === undefined ? undefined : { a, b };
}

/** Sorted by weight, then words; what is said twice is kept once. */
export function strongestFirst(found: readonly RoleEvidence[]): readonly RoleEvidence[] {
  if (found.length < 2) return found;
  const seen = new Set<string>();
  return found
    .filter(({ role, kind, words }) => {
      const key = `${role}\0${kind}\0${words}`;
      return seen.has(key) ? false : seen.add(key);
    })
    .sort((a, b) => b.weight - a.weight || compareCodeUnits(a.words, b.words) || compareCodeUnits(a.role, b.role));
}

function noteEvidence(note: string, source: Source, reader: RoleReader): readonly RoleEvidence[] {
  const claims = onePerRole(reader.claimed(note));
  // A note that names several passes speaks of more than its own clip.
  const weight = claims.length > 1 ? ROLE_WEIGHTS.severalInNote : ROLE_WEIGHTS.note;
  return claims.map(({ role, words }) => evidence(role, 'note', weight, source, words));
}

/** The file's own name speaks before its folders, the nearest folder before the others; a name with several roles says nothing. */
function nameEvidence(file: string, reader: RoleReader): readonly RoleEvidence[] {
  const names = file.split('/').reverse();
  for (const [index, name] of names.entries()) {
    const mentions = onePerRole(reader.named(name));
    if (mentions.length > 1) return [];
    const [mention] = mentions;
    if (mention === undefined) continue;
    const what = index === 0 ? 'file name' : 'folder name';
    return [{ role: mention.role, kind: 'name', weight: ROLE_WEIGHTS.name, words: `${what} "${name}" says "${mention.words}"` }];
  }
  return [];
}

function onePerRole(mentions: readonly RoleMention[]): readonly RoleMention[] {
  return mentions.filter(({ role }, place) => mentions.findIndex((other) => other.role === role) === place);
}

function evidence(role: Role, kind: RoleEvidence['kind'], weight: number, { file, place }: Source, said: string): RoleEvidence {
  return { role, kind, weight, words: `${file}${place === '' ? '' : `, ${place}`} says "${said}"` };
}

function noRole(raw: string, { file, place }: Source): ReadingProblem {
  return {
    code: 'unreadable-value',
    severity: 'warn',
    file,
    place,
    found: raw,
    expected: 'a pass such as lead, swapped, clean, reference or element',
    remedy: 'name the pass in the log, or add the word to the role words of the pipeline file',
  };
}
