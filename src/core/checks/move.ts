import type { Clip } from '../material/clip.ts';
import type { Finding, Quantity } from '../material/finding.ts';
import type { PlateSet } from '../material/plate-set.ts';
import type { Tolerance } from '../material/tolerance.ts';
import type { MarkDifference } from '../optics/moves/compare-marks.ts';
import type { MarkProblem } from '../optics/moves/mark-problems.ts';
import { markKey } from '../optics/moves/mark.ts';
import type { StanceDifference } from '../optics/moves/stance.ts';
import { rateAsNumber } from '../timecode/rate.ts';
import type { ComparedMove, MoveRecords, Seen } from './compared-move.ts';
import type { Wording } from './consequence.ts';
import { figure } from './evidence.ts';
import { isFor } from './marks-of-pass.ts';
import type { ToldFigures } from './move-words.ts';
import { markLine, wordsOfMarks, wordsOfNotCompared, wordsOfProblem, wordsOfTracked } from './move-words.ts';
import { clipName } from './passes.ts';
import { raise } from './raise.ts';
import { atMost, compareSeverity, compareText, isAbove, severityBeyond } from './severity.ts';

/**
 * A move that no machine repeats needs its marks on record for each pass that is joined, or nobody can compare the passes.
 * A camera move recorded along the take does as well.
 */
export function checkMarks(set: PlateSet, joined: readonly Clip[], { marks, movesOf }: MoveRecords): readonly Finding[] {
  if (!set.method.movingCamera || set.method.repeatedMove || joined.length === 0) return [];
  const without = joined.filter((clip) => !hasRecordedMove(clip) && movesOf(clip).length === 0 && !marks.some((mark) => isFor(mark, clip)));
  if (without.length === 0) return [];
  return [
    raise({
      code: 'move-differs',
      severity: 'warn',
      subject: without,
      set,
      measured: { value: `${joined.length - without.length} of ${joined.length} passes`, unit: '' },
      allowed: { value: `${joined.length} of ${joined.length} passes`, unit: '' },
      evidence: without.map((clip) => `${clipName(clip)}: no marks in the move notes, no move recorded along the take`),
    }),
  ];
}

function hasRecordedMove({ tracks }: Clip): boolean {
  return tracks.some(({ values }) => values.tilt !== undefined || values.rollAngle !== undefined);
}

/** Common practice, no source. */
const MOST_FRAMES_LATE = 2;

/** The pass must go the way of its lead: what a compared move amounts to, and what is wrong with the marks. */
export function checkMove(move: ComparedMove): readonly Finding[] {
  switch (move.kind) {
    case 'tracked': return checkTracked(move);
    case 'marks': return [...checkNoted(move), ...checkProblems(move)];
    case 'not-compared': return [tell(move, { severity: 'warn', measured: { value: move.why, unit: '' }, allowed: { value: 'two moves that can be compared', unit: '' } }, wordsOfNotCompared(move), move.evidence)];
  }
  return move satisfies never;
}

type Tracked = Extract<ComparedMove, { kind: 'tracked' }>;
type Noted = Extract<ComparedMove, { kind: 'marks' }>;

/** The figures a tracked comparison is judged by: where the sync is a guess, what is left once the delay found is taken out. */
export function toldFigures({ comparison: { synced, aligned }, passes }: Tracked): ToldFigures {
  return aligned !== undefined && passes.sync.method === 'assumed' ? { figures: aligned, isAligned: true } : { figures: synced, isAligned: false };
}

function checkTracked(move: Tracked): readonly Finding[] {
  const { comparison, lead, pass } = move;
  const told = toldFigures(move);
  const { far, parallax } = told.figures;
  const verdict = weigh({ farPx: far.worstPx, parallaxPx: parallax.worstPx, offMm: offMm(comparison.worst), isBound: comparison.missing.length > 0 }, move);
  if (verdict === undefined) return [];
  const without = comparison.framesWithoutPartner;
  return [
    tell(move, verdict, wordsOfTracked(move, told, verdict.severity), [
      `tracked moves: ${lead.file}, ${pass.file}`,
      ...assumptionsOf(move, comparison),
      ...(lead.source === pass.source ? [] : ['two sources recorded them: whether both count pan, tilt and roll alike is not on record']),
      ...(without === 0 ? [] : [`${without} samples of the lead have no partner in the other move`]),
    ]),
  ];
}

function checkNoted(move: Noted): readonly Finding[] {
  const { comparison, passes } = move;
  const worst = comparison.marks.find(({ name }) => name === comparison.worst) ?? comparison.marks.toSorted((a, b) => lateness(b) - lateness(a))[0];
  if (worst === undefined) return [];
  const late = comparison.marks.toSorted((a, b) => lateness(b) - lateness(a))[0] ?? worst;
  const framesLate = passes.lead.rate === undefined ? 0 : lateness(late) * rateAsNumber(passes.lead.rate);
  const { farPx = 0, parallaxPx = 0 } = worst.px ?? {};
  const inPx = weigh({ farPx, parallaxPx, offMm: offMm(worst.stance), isBound: comparison.missing.length > 0 }, move);
  const inTime: Judged | undefined = isAbove(framesLate, MOST_FRAMES_LATE)
    ? { severity: 'warn', measured: { value: figure(framesLate, 1), unit: 'frames' }, allowed: { value: MOST_FRAMES_LATE, unit: 'frames' } } : undefined;
  const verdict = inPx ?? inTime;
  if (verdict === undefined) return [];
  return [tell(move, verdict, wordsOfMarks(move, inPx === undefined ? late : worst, verdict.severity), [
    ...comparison.marks.map(markLine),
    ...(move.timing === '' ? [] : [move.timing]),
    ...assumptionsOf(move, comparison),
  ])];
}

function lateness({ lateS = 0 }: MarkDifference): number {
  return Math.abs(lateS);
}

type Judged = Pick<Finding, 'severity'> & { readonly measured: Quantity; readonly allowed: Quantity };

/** What a move amounts to: px on the far plane and between the planes, and how far off the camera stood where it is worst, mm. */
interface Amount {
  readonly farPx: number;
  readonly parallaxPx: number;
  readonly offMm: number;
  /** Whether it rests on distances nobody measured. */
  readonly isBound: boolean;
}

/** Parallax decides, then what a warp can undo. What rests on distances nobody measured, or on a hand that came near enough, is never more than a warning. */
function weigh({ farPx, parallaxPx, offMm, isBound }: Amount, { limits, handMm }: Seen): Judged | undefined {
  const isMild = isBound || (handMm !== undefined && !isAbove(offMm, handMm));
  const judge = (px: number, tolerance: Tolerance): Judged | undefined => {
    const severity = severityBeyond(px, tolerance);
    return severity === undefined ? undefined : { severity: isMild ? atMost(severity, 'warn') : severity, measured: { value: figure(px, 2), unit: 'px' }, allowed: { value: figure(tolerance.warn, 2), unit: 'px' } };
  };
  const [parallax, shift] = [judge(parallaxPx, limits.parallaxPx), judge(farPx, limits.shiftPx)];
  return parallax === undefined || (shift !== undefined && compareSeverity(shift.severity, parallax.severity) < 0) ? shift : parallax;
}

function offMm({ sideMm, aboveMm, aheadMm }: Omit<StanceDifference, 'frame'>): number {
  return Math.hypot(sideMm, aboveMm, aheadMm);
}

function assumptionsOf({ plateAssumptions, handMm }: Seen, { assumptions, missing }: { readonly assumptions: readonly string[]; readonly missing: readonly string[] }): readonly string[] {
  const byHand = handMm === undefined ? [] : [`no hand repeats a move to the pixel: parallax stops the set only where the camera stood more than ${handMm} mm off (height_mm)`];
  return [...plateAssumptions, ...assumptions, ...byHand, ...(missing.length === 0 ? [] : [`not on record: ${missing.join(', ')}`])];
}

/** One finding for each kind of trouble with the marks of one pass, with the rows they stand in. */
function checkProblems(move: Noted): readonly Finding[] {
  const { comparison, passes, leadMarks, passMarks } = move;
  const groups = new Map<string, MarkProblem[]>();
  for (const problem of comparison.problems) {
    const key = `${problem.kind} ${problem.pass}`;
    groups.set(key, [...(groups.get(key) ?? []), problem]);
  }
  const ofMarks = [...groups.values()].flatMap((problems): readonly Finding[] => {
    const [first] = problems;
    if (first === undefined) return [];
    const clip = first.pass === 'first' ? passes.lead : passes.pass;
    const own = first.pass === 'first' ? leadMarks : passMarks;
    const rows = first.kind === 'missing' ? (first.pass === 'first' ? passMarks : leadMarks) : own;
    const names = problems.map(({ mark }) => mark);
    const places = rows.filter(({ mark }) => names.some((name) => markKey(name) === markKey(mark))).map(({ from, mark }) => `mark "${mark}": ${from}`);
    const { severity, ...words } = wordsOfProblem(first.kind, clipName(clip), names);
    return [tellOf([clip], { severity, measured: { value: names.join(', '), unit: '' }, allowed: { value: 'the same marks in both passes, each with its time, in one order', unit: '' } }, words, places)];
  });
  const impossible = comparison.refusals.map(({ what, found, expected }) =>
    tellOf([passes.lead, passes.pass], { severity: 'warn', measured: { value: `${what}: ${found}`, unit: '' }, allowed: { value: expected, unit: '' } },
      { consequence: `The move notes give ${found} as the ${what}, which no camera can have: it was left out of the comparison.`, remedy: 'Correct it in the move notes.' },
      [...leadMarks, ...passMarks].filter(({ mark }) => what.includes(mark)).map(({ from }) => from)));
  return [...ofMarks, ...impossible];
}

function tell({ passes }: Pick<Seen, 'passes'>, judged: Judged, words: Wording, evidence: readonly string[]): Finding {
  return tellOf([passes.lead, passes.pass], judged, words, evidence);
}

function tellOf(clips: readonly Clip[], judged: Judged, words: Wording, evidence: readonly string[]): Finding {
  return { code: 'move-differs', ...judged, subject: [...new Set(clips.map(({ id }) => id))].toSorted(compareText), ...words, evidence };
}
