import type { ClipId, RoleEvidence } from './clip.ts';
import { foldName } from './clip-names.ts';
import type { Correction } from './correction.ts';
import { correctionNamesClip } from './correction.ts';
import type { GroupedDay } from './day.ts';
import type { Finding } from './finding.ts';
import type { Source, Statement } from './statement.ts';

/** Corrections by the clips they name. */
export interface CorrectionIndex {
  /** Slates that people fixed, as statements of highest trust. */
  slatesOf(clip: ClipId): readonly Statement[];
  /** The role a person gave a clip: by a role correction, else by confirming it as one of a pair. At most one. */
  rolesOf(clip: ClipId): readonly RoleEvidence[];
  /** Leads that people confirmed a pass for. */
  readonly confirmedLeads: ReadonlySet<ClipId>;
  readonly used: GroupedDay['correctionsUsed'];
  /** Corrections that name no clip, or more than one. */
  readonly findings: readonly Finding[];
}

/** Finds the clips that corrections name, by file or by file name. A name that two clips share is used for neither. */
export function indexCorrections(corrections: readonly Correction[], files: readonly ClipId[]): CorrectionIndex {
  const named = clipFinder(corrections.length === 0 ? [] : files);
  const slates = new Map<ClipId, Statement[]>();
  const roles = new Map<ClipId, RoleEvidence>();
  const pairRoles = new Map<ClipId, RoleEvidence>();
  const confirmedLeads = new Set<ClipId>();
  const used: { id: string; clips: readonly ClipId[] }[] = [];
  const findings: Finding[] = [];
  for (const correction of corrections) {
    const names = 'lead' in correction ? [correction.lead, correction.clip] : [correction.clip];
    const found = names.map(named);
    findings.push(...names.flatMap((name, place) => findingOf(correction, name, found[place] ?? [])));
    const clips = found.flatMap((each) => (each.length === 1 ? each : []));
    const whole = clips.length === names.length;
    used.push({ id: correction.id, clips: whole ? [...new Set(clips)].sort() : [] });
    const [first, second] = clips;
    if (!whole || first === undefined) continue;
    if (correction.kind === 'slate') listIn(slates, first).push(slateStatement(correction.slate, correction.from));
    if (correction.kind === 'role' && !roles.has(first)) roles.set(first, roleBy(correction, correction.role));
    if (correction.kind === 'confirm' && second !== undefined) {
      confirmedLeads.add(first);
      if (!pairRoles.has(first)) pairRoles.set(first, roleBy(correction, 'lead'));
      if (correction.role !== undefined && !pairRoles.has(second)) pairRoles.set(second, roleBy(correction, correction.role));
    }
  }
  return {
    slatesOf: (clip) => slates.get(clip) ?? [],
    rolesOf: (clip) => [roles.get(clip) ?? pairRoles.get(clip)].filter((evidence) => evidence !== undefined),
    confirmedLeads,
    used,
    findings,
  };
}

function clipFinder(files: readonly ClipId[]): (name: string) => readonly ClipId[] {
  const byBase = new Map<string, ClipId[]>();
  for (const file of files) listIn(byBase, baseName(file)).push(file);
  return (name) => {
    const found = (byBase.get(baseName(name)) ?? []).filter((file) => correctionNamesClip(name, file));
    return found.includes(name) ? [name] : found;
  };
}

function baseName(file: string): string {
  return foldName(file.slice(file.lastIndexOf('/') + 1));
}

function listIn<V>(map: Map<string, V[]>, key: string): V[] {
  const list = map.get(key) ?? [];
  if (list.length === 0) map.set(key, list);
  return list;
}

function slateStatement(slate: string, from: string): Statement {
  const [, file = from, place = ''] = /^(.*), (line \d+.*)$/u.exec(from) ?? [];
  const source: Source = { kind: 'correction', file, place };
  return { field: 'slate', value: slate, raw: slate, source };
}

function roleBy({ from, who, why }: Correction, role: RoleEvidence['role']): RoleEvidence {
  return { role, kind: 'correction', weight: 1, words: `${from}: ${who}, ${why}` };
}

function findingOf(correction: Correction, name: string, found: readonly ClipId[]): readonly Finding[] {
  if (found.length === 1) return [];
  const none = found.length === 0;
  return [
    {
      code: 'unused-row',
      severity: 'warn',
      subject: [...found].sort(),
      measured: { value: found.length, unit: '' },
      allowed: { value: 1, unit: '' },
      consequence: none
        ? `The correction for ${name} is not used: no clip has that name.`
        : `The correction for ${name} is not used: ${found.length} clips have that name, and it could mean any of them.`,
      remedy: none ? 'correct the name in the corrections file, or add the clip' : 'name the clip with its folder in the corrections file',
      evidence: [`${correction.from}: ${correction.who}, ${correction.why}`],
    },
  ];
}
