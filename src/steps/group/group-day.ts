import type { Clip, ReadClip } from '../../core/material/clip.ts';
import type { CorrectionIndex } from '../../core/material/correction-index.ts';
import { indexCorrections } from '../../core/material/correction-index.ts';
import type { ClipNote, GroupedDay, ReadDay } from '../../core/material/day.ts';
import { forSlateOf } from '../../core/material/for-slate.ts';
import type { Finding, ReadingProblem } from '../../core/material/finding.ts';
import type { GroupRules } from '../../core/material/group-rules.ts';
import type { Resolved, TiedNote } from '../../core/material/resolve-clip.ts';
import { resolveClip } from '../../core/material/resolve-clip.ts';
import type { ResolvedSlate } from '../../core/material/resolve-slate.ts';
import { resolveSlate } from '../../core/material/resolve-slate.ts';
import { decideRole, gatherRoleEvidence } from '../../core/material/role-evidence.ts';
import type { RoleReader } from '../../core/material/role-words.ts';
import { roleReader } from '../../core/material/role-words.ts';
import type { Statement } from '../../core/material/statement.ts';
import { tieByFacts } from '../../core/material/tie-by-facts.ts';
import type { UntiedNote } from '../../core/material/tie-by-facts.ts';
import type { NamedNote } from '../../core/material/tie-notes.ts';
import { nameNotes } from '../../core/material/tie-notes.ts';
import { compareCodeUnits, comparePlaces } from '../../core/material/trust.ts';
import { countUnusedRows, rollsAssumed, unusedNotes } from '../../core/material/unused-notes.ts';
import { groupPlateSets } from '../../core/matching/group-plate-sets.ts';
import { shareWhatIsSaid } from '../../core/matching/group-shared-takes.ts';
import { tieMoves } from '../../core/matching/tie-moves.ts';
import { slateFromName } from '../../core/slate/name-slate.ts';
import type { Slate } from '../../core/slate/slate.ts';
import { formatSlate, setUpKey } from '../../core/slate/slate.ts';

/**
 * Ties reports and sidecars to clips, chooses every fact by trust, reads slates and roles, and forms the plate sets. Pure; the
 * order of clips, notes and rows never matters. Every clip of the day is in one set or unplaced.
 */
export function groupDay(day: ReadDay, rules: GroupRules): GroupedDay {
  const clips = day.clips.toSorted((a, b) => compareCodeUnits(a.file, b.file));
  const notes = day.notes.toSorted(compareNotes);
  const reader = roleReader(rules.roleWords);
  const corrections = indexCorrections(rules.corrections, clips.map(({ file }) => file));
  const { known, untied, assumed } = tie(clips, notes, rules, reader, corrections);
  const dates = [...new Set(known.flatMap(({ clip }) => clip.date ?? []))];
  const unusedRows = countUnusedRows(untied, dates);
  const moves = tieMoves(day.moves ?? [], shareWhatIsSaid(decide(known, rules, reader, corrections)));
  const roled = moves.clips;
  const { sets, unplaced, findings } = groupPlateSets(roled, rules, { ...day, confirmedLeads: corrections.confirmedLeads });
  const inSets = new Map(sets.flatMap((set) => set.clips.map((clip) => [clip.id, clip] as const)));
  return {
    clips: roled.map((clip) => inSets.get(clip.id) ?? clip),
    sets,
    unplaced,
    shots: day.shots,
    marks: day.marks,
    ...(moves.ties.length === 0 ? {} : { moves: moves.ties }),
    findings: [
      ...day.problems.map(findingOfProblem),
      ...unusedNotes(untied, dates, (place) => clips[place]?.file ?? ''),
      ...rollsAssumed(assumed),
      ...corrections.findings,
      ...moves.findings,
      ...findings,
    ],
    correctionsUsed: corrections.used,
    ...(unusedRows === 0 ? {} : { unusedRows }),
  };
}

interface Known extends Resolved {
  readonly slated: ResolvedSlate;
}

interface TiedDay {
  readonly known: readonly Known[];
  readonly untied: readonly UntiedNote[];
  /** Rows that went by a clip number alone. */
  readonly assumed: readonly ClipNote[];
}

/** First the notes that name their clip; with what these tell, the notes that go by slate and timecode. */
function tie(clips: readonly ReadClip[], notes: readonly ClipNote[], rules: GroupRules, reader: RoleReader, corrections: CorrectionIndex): TiedDay {
  const tied: TiedNote[][] = clips.map(() => []);
  const keep = (note: ClipNote, places: readonly number[], humanOnly: boolean): void => {
    for (const place of places) tied[place]?.push({ note, humanOnly });
  };
  const resolve = (clip: ReadClip, place: number): Known => know(clip, tied[place] ?? [], rules, corrections);
  const named = nameNotes(notes, clips);
  const isSettled = ({ places, withoutRoll }: NamedNote): boolean => places.length === 1 && withoutRoll?.sure !== false;
  const open = named.filter((one) => !isSettled(one) && (one.places.length > 0 || one.names === undefined));
  for (const one of named) if (isSettled(one)) keep(one.note, one.places, false);
  const first = clips.map(resolve);
  const { ties, untied } = tieByFacts(open, first.map(({ clip, slated }) => ({ clip, slate: slated.slate })), rules.slateGrammar, reader);
  for (const { note, places, humanOnly } of ties) keep(note, places, humanOnly);
  const again = new Set(ties.flatMap(({ places }) => places));
  const nowhere = named.flatMap(({ note, names, places }) => (places.length === 0 && names !== undefined ? [{ note, names, places }] : []));
  return {
    known: first.map((clip, place) => (again.has(place) && clips[place] !== undefined ? resolve(clips[place], place) : clip)),
    untied: [...untied, ...nowhere],
    assumed: named.filter((one) => one.withoutRoll !== undefined && isSettled(one)).map(({ note }) => note),
  };
}

function know(clip: ReadClip, notes: readonly TiedNote[], rules: GroupRules, corrections: CorrectionIndex): Known {
  const added = [...corrections.slatesOf(clip.file), ...slateInName(clip.file, rules)];
  const resolved = resolveClip(clip, notes, added, rules.tolerances);
  return { ...resolved, slated: resolveSlate(resolved.said, resolved.clip.clip, rules.slateGrammar) };
}

function slateInName(file: string, { slateGrammar }: GroupRules): readonly Statement[] {
  const named = slateFromName(file, slateGrammar);
  if (named === undefined) return [];
  return [{ field: 'slate', value: formatSlate(named.slate), raw: named.name, source: { kind: 'name', file, place: 'name' } }];
}

/** Slate, the slate it is for, and role of every clip. */
function decide(known: readonly Known[], rules: GroupRules, reader: RoleReader, corrections: CorrectionIndex): readonly Clip[] {
  const setUps = new Set(known.flatMap(({ slated: { slate } }) => (slate === undefined ? [] : [setUpKey(slate)])));
  return known.map(({ clip, said, slated }) => {
    const { slate } = slated;
    const forSlate = forSlateOf(said, slate, rules.slateGrammar, (key) => setUps.has(key));
    const roles = gatherRoleEvidence(said, slated.stated, clip.file, corrections.rolesOf(clip.id), reader);
    const contradictions = forSlate.slate === undefined ? slated.disagreements : besidesHome(slated, forSlate.slate);
    const fromNote = forSlate.statement?.source.kind === 'note' ? [forSlate.statement] : [];
    return {
      ...clip,
      ...(slate === undefined ? {} : { slate }),
      ...(forSlate.slate === undefined ? {} : { forSlate: forSlate.slate }),
      roleEvidence: roles.evidence,
      ...decideRole(roles.evidence),
      statements: fromNote.length === 0 ? clip.statements : [...clip.statements, ...fromNote],
      disagreements: contradictions.length === 0 ? clip.disagreements : [...contradictions, ...clip.disagreements],
      problems: [...clip.problems, ...slated.problems, ...forSlate.problems, ...roles.problems],
    };
  });
}

/** A pass slated 27C "for 27B" may lie in a folder named 27B: that contradicts nothing. */
function besidesHome({ disagreements, stated }: ResolvedSlate, home: Slate): ResolvedSlate['disagreements'] {
  return disagreements.filter(({ other }) => !stated.some(({ statement, slate }) => statement === other && setUpKey(slate) === setUpKey(home)));
}

function compareNotes(a: ClipNote, b: ClipNote): number {
  return compareCodeUnits(a.file, b.file) || comparePlaces(a.place, b.place) || compareCodeUnits(a.stem ?? '', b.stem ?? '');
}

/** What a report, sidecar or other file could not tell, as a finding of the day. */
function findingOfProblem({ code, severity, file, place, found, expected, remedy }: ReadingProblem): Finding {
  const where = place === '' ? file : `${file}, ${place}`;
  // A note on a value tells what it was taken for; a warning, what it should have been.
  const told = code === 'unreadable-value' && severity === 'note' ? `${found}, ${expected}` : `found ${found}, expected ${expected}`;
  return {
    code,
    severity,
    subject: [],
    measured: { value: found, unit: '' },
    allowed: { value: expected, unit: '' },
    consequence: `${where}: ${told}.`,
    remedy,
    evidence: [where],
  };
}
