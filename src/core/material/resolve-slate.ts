import type { SlateGrammar } from '../slate/grammar.ts';
import type { UnreadableSlate } from '../slate/parse-slate.ts';
import { isSlate, parseTake, slateSuspicion } from '../slate/parse-slate.ts';
import type { SlateColumns } from '../slate/slate-columns.ts';
import { slateFromColumns } from '../slate/slate-columns.ts';
import type { Slate } from '../slate/slate.ts';
import { setUpKey } from '../slate/slate.ts';
import type { Disagreement } from './clip.ts';
import type { ReadingProblem } from './finding.ts';
import type { Statement } from './statement.ts';
import type { SaidByField } from './trust.ts';
import { allOf, compareTrust, isSaidTogether } from './trust.ts';

/** A slate, and the statement it was read from. */
export interface StatedSlate {
  readonly slate: Slate;
  readonly statement: Statement;
}

/** The slate of a clip, every slate any source gives it, and what is wrong among them. */
export interface ResolvedSlate {
  readonly slate?: Slate;
  /** Most trusted first; the chosen one is the first. */
  readonly stated: readonly StatedSlate[];
  readonly disagreements: readonly Disagreement[];
  readonly problems: readonly ReadingProblem[];
}

/**
 * A slate is taken as a whole from the most trusted source that names one, never mixed from several; only a take that source
 * leaves out may come from another. `clipNumber` ("C066") guards against cameras that count clips as takes.
 */
export function resolveSlate(said: SaidByField, clipNumber: string | undefined, grammar: SlateGrammar): ResolvedSlate {
  const units = unitsOf(said);
  const stated: StatedSlate[] = [];
  const problems: ReadingProblem[] = [];
  const loneTakes: Statement[] = [];
  for (const { columns, first, take } of units) {
    const slate = slateFromColumns(columns, grammar);
    if (slate === undefined) {
      if (take !== undefined && !isCameraDefault(take, clipNumber)) loneTakes.push(take);
    } else if (isSlate(slate)) {
      stated.push({ slate, statement: first });
    } else {
      problems.push(unreadable(first, slate));
    }
  }
  const [chosen] = stated;
  if (chosen === undefined) return { stated, disagreements: [], problems };
  const slate = withTake(chosen.slate, stated, loneTakes, grammar);
  const odd = slateSuspicion(slate, grammar);
  if (odd !== undefined) problems.push(unreadable(chosen.statement, { reason: odd }));
  return { slate, stated, disagreements: disagreementsOf(slate, chosen.statement, stated, loneTakes, grammar), problems };
}

/** What one row or one file says about the slate. */
interface Unit {
  readonly columns: SlateColumns;
  readonly first: Statement;
  readonly take: Statement | undefined;
}

const SLATE_FIELDS = ['slate', 'scene', 'setup', 'take'] as const;

function unitsOf(said: SaidByField): readonly Unit[] {
  const units: { columns: { -readonly [F in keyof SlateColumns]: string }; first: Statement; take: Statement | undefined }[] = [];
  for (const field of SLATE_FIELDS) {
    for (const statement of allOf(said, field)) {
      let unit = units.find(({ first }) => isSaidTogether(first.source, statement.source));
      if (unit === undefined) units.push((unit = { columns: {}, first: statement, take: undefined }));
      unit.columns[field] ??= statement.value;
      if (field === 'take') unit.take ??= statement;
    }
  }
  return units.sort((a, b) => compareTrust(a.first, b.first));
}

/** Some cameras write their clip number into the take: it says nothing of the board. */
function isCameraDefault({ source, raw }: Statement, clipNumber: string | undefined): boolean {
  return source.kind === 'embedded' && clipNumber !== undefined && Number(raw) === Number(clipNumber.replace(/\D/gu, ''));
}

function withTake(slate: Slate, stated: readonly StatedSlate[], loneTakes: readonly Statement[], grammar: SlateGrammar): Slate {
  if (slate.take !== undefined) return slate;
  const same = stated.find((other) => other.slate.take !== undefined && setUpKey(other.slate) === setUpKey(slate));
  if (same?.slate.take !== undefined) return { ...slate, take: same.slate.take };
  for (const { raw } of loneTakes) {
    const take = parseTake(raw, grammar);
    if (take !== undefined) return { ...slate, take: take.take, pickUp: slate.pickUp || take.pickUp, series: slate.series || take.series };
  }
  return slate;
}

function disagreementsOf(
  slate: Slate, chosen: Statement, stated: readonly StatedSlate[], loneTakes: readonly Statement[], grammar: SlateGrammar,
): readonly Disagreement[] {
  // A person has settled it; what was written before stays among the statements.
  if (chosen.source.kind === 'correction') return [];
  const boards = stated.slice(1).filter((other) => !sameBoard(slate, other.slate));
  const takes = loneTakes.filter(({ raw }) => differs(slate.take, parseTake(raw, grammar)?.take));
  return [...boards.map(({ statement }) => ({ field: 'slate' as const, chosen, other: statement })), ...takes.map((other) => ({ field: 'take' as const, chosen, other }))];
}

/** A source that names the scene alone, or that counts scenes where the other counts slates, contradicts nothing. */
function sameBoard(a: Slate, b: Slate): boolean {
  if (differs(a.take, b.take)) return false;
  if (setUpKey(a) === setUpKey(b) || (a.scene === '') !== (b.scene === '')) return true;
  return a.scene === b.scene && (a.setUp === '' || b.setUp === '');
}

function differs(a: number | undefined, b: number | undefined): boolean {
  return a !== undefined && b !== undefined && a !== b;
}

function unreadable({ raw, source }: Statement, { reason }: UnreadableSlate): ReadingProblem {
  return {
    code: 'unreadable-value',
    severity: 'warn',
    file: source.file,
    place: source.place,
    found: raw,
    expected: `a slate such as 27B-3 or 214/2: ${reason}`,
    remedy: 'correct the slate where it stands, or fix it in the corrections file',
  };
}
