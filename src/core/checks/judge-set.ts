import type { NeededRange, PassCoverage } from '../coverage/coverage.ts';
import { coverLead, coverPass } from '../coverage/cover-pass.ts';
import { neededRanges } from '../coverage/needed-ranges.ts';
import { namesLead } from '../coverage/shot-of-lead.ts';
import { spanOf } from '../coverage/span.ts';
import { passesOf } from '../matching/left-over.ts';
import type { Clip, ClipId } from '../material/clip.ts';
import type { Correction } from '../material/correction.ts';
import type { Finding, FindingGroup, ReadingProblem } from '../material/finding.ts';
import { FINDING_CODES } from '../material/finding.ts';
import type { LeadMatch, MatchedSet, PassMatch } from '../material/plate-set.ts';
import type { MoveMark, ShotRow } from '../material/shot-list.ts';
import type { Tolerances } from '../material/tolerance.ts';
import type { FrameRange, Handles } from '../timecode/range.ts';
import { pullRange } from '../timecode/range.ts';
import { sameRate } from '../timecode/rate.ts';
import { checkCamera } from './camera.ts';
import { checkClock } from './clock.ts';
import type { Counting } from './counting.ts';
import { weighClips, weighLead, weighReading } from './counting.ts';
import { checkGaps, checkLeadCovers, checkPassCovers, checkSync, mustCover, sharesCut } from './coverage.ts';
import { checkDuplicates } from './duplicates.ts';
import type { JudgedSet } from './judged.ts';
import { checkLength } from './length.ts';
import { checkLens } from './lens.ts';
import { checkMarks } from './move.ts';
import { notOnRecord } from './on-record.ts';
import type { MatchedPasses } from './passes.ts';
import { checkPosition } from './position.ts';
import type { ClipOf } from './presence.ts';
import {
  checkAmbiguity, checkLeadHasPasses, checkLeadPass, checkLeftOver, checkProposals, checkReferenceCount, checkSetHasPasses, checkShotHasLead,
  missingRoles,
} from './presence.ts';
import { checkRate } from './rate.ts';
import { checkReading, checkShotRow } from './reading.ts';
import { checkGuessedRoles, checkRoleConflict } from './roles.ts';
import { sortFindings } from './severity.ts';
import { reasonFor, verdictOf } from './verdict.ts';

const GROUP_OF: ReadonlyMap<string, FindingGroup> = new Map(
  // Object.entries forgets that its keys are the groups.
  Object.entries(FINDING_CODES).flatMap(([group, codes]) => codes.map((code) => [code, group as FindingGroup] as const)),
);

/** What checking goes by. A pipeline's configuration satisfies it as it stands. */
export interface CheckRules {
  readonly tolerances: Tolerances;
  readonly handles: Handles;
  readonly minCleanFrames: number;
  readonly corrections: readonly Correction[];
  readonly ambiguityMargin: number;
}

/** What a set must know of the day around it. */
export interface DayAround {
  readonly clipOf: ClipOf;
  /** Rows of the shot list, and marks of moves, for the set-up of one of these clips, whatever its take. */
  readonly shotsFor: (clips: readonly Clip[]) => readonly ShotRow[];
  readonly marksFor: (clips: readonly Clip[]) => readonly MoveMark[];
  /** Corrections that name one of these clips. */
  readonly correctionsFor: (clips: ReadonlySet<ClipId>) => readonly Correction[];
}

/** One lead that could be looked up, with what is needed of it and how far it and its passes hold that. */
interface LeadCase {
  readonly match: LeadMatch;
  readonly lead: Clip;
  readonly needed: readonly NeededRange[];
  readonly problems: readonly ReadingProblem[];
  readonly own: readonly PassCoverage[];
  readonly passes: readonly PassCase[];
}

interface PassCase {
  readonly match: PassMatch;
  readonly passes: MatchedPasses;
  readonly coverage: readonly PassCoverage[];
}

/** Judges one set: what it lacks, how far its passes hold what is needed, and where they differ. */
export function judgeSet(matched: MatchedSet, day: DayAround, rules: CheckRules): JudgedSet {
  const leads = matched.matches.flatMap(({ lead }) => day.clipOf(lead) ?? []);
  const shots = day.shotsFor(leads.length > 0 ? leads : matched.set.clips);
  const cases = layOutCases(matched, leads, shots, day.clipOf, rules);
  const counting = countingOf(matched, cases, shots, day.clipOf);
  const clips = clipsOf(matched, cases);
  const marks = day.marksFor(clips);
  const findings = sortFindings(
    [
      ...cases.flatMap((one) => checkCase(matched, one, counting, day, rules)),
      ...checkWhole(matched, cases, counting, shots, day, rules),
      ...clips.flatMap((clip) => checkClip(clip, cases, counting, rules)),
      ...checkMarks(matched.set, joinedClips(cases, counting), marks),
      ...checkClock(clips, () => matched.set).map((finding) => weighClips(finding, counting)),
      ...checkDuplicates(clips).map((finding) => weighClips(finding, counting)),
    ].filter(({ code }) => !matched.set.method.skipChecks.includes(groupOf(code))),
  );
  const judged = cases.filter(({ lead }) => counting.leads.has(lead.id));
  const comparable = judged.flatMap(({ passes }) => passes.map((one) => one.passes));
  return {
    matched,
    verdict: verdictOf(findings),
    reason: reasonFor(findings, { method: matched.set.method.name, leads: judged.map(({ lead }) => lead), notOnRecord: notOnRecord(comparable) }),
    findings,
    countingLeads: judged.map(({ lead }) => lead.id),
    needed: cases.flatMap(({ needed }) => needed),
    coverage: cases.flatMap(({ own, passes }) => [...own, ...passes.flatMap(({ coverage }) => coverage)]),
    missingRoles: counting.setLacks,
    correctionsUsed: day.correctionsFor(new Set(clips.map(({ id }) => id))),
    shots,
    marks,
  };
}

function layOutCases(matched: MatchedSet, leads: readonly Clip[], shots: readonly ShotRow[], clipOf: ClipOf, rules: CheckRules): readonly LeadCase[] {
  return matched.matches.flatMap((match) => {
    const lead = clipOf(match.lead);
    if (lead === undefined) return [];
    const { ranges, problems } = neededRanges(lead, shots, rules.handles, leads.filter(({ id }) => id !== lead.id));
    const passes = passesOf(match).flatMap((pass) => passCase(matched, lead, pass, ranges, clipOf));
    return [{ match, lead, needed: ranges, problems, own: ranges.flatMap((needed) => coverLead(lead, needed) ?? []), passes }];
  });
}

function passCase({ set }: MatchedSet, lead: Clip, match: PassMatch, ranges: readonly NeededRange[], clipOf: ClipOf): readonly PassCase[] {
  const pass = clipOf(match.clip);
  if (pass === undefined) return [];
  const { role, sync } = match;
  const passes: MatchedPasses = { lead, pass, role, sync, method: set.method, frames: framesThatMatter(lead, ranges) };
  // Frames of another rate cannot be laid under the lead's: `frame-rate-differs` says so, and nothing more can be said.
  const coverage = role === 'reference' || ratesDiffer(passes) ? [] : ranges.flatMap((needed) => coverPass(pass, role, sync.offset, needed) ?? []);
  return [{ match, passes, coverage }];
}

function ratesDiffer({ lead, pass }: MatchedPasses): boolean {
  return lead.rate !== undefined && pass.rate !== undefined && !sameRate(lead.rate, pass.rate);
}

/** From the first to the last frame of the lead that any shot needs, handles included. */
function framesThatMatter(lead: Clip, ranges: readonly NeededRange[]): FrameRange {
  const whole = { start: 0, end: spanOf(lead) ?? Number.MAX_SAFE_INTEGER };
  if (ranges.length === 0) return whole;
  const pulls = ranges.map(({ cut, handles }) => pullRange(cut, handles));
  return {
    start: Math.max(0, Math.min(...pulls.map(({ start }) => start))),
    end: Math.min(whole.end, Math.max(...pulls.map(({ end }) => end))),
  };
}

/** Circled leads and leads that a shot uses; all, when nobody chose any. */
function countingOf(matched: MatchedSet, cases: readonly LeadCase[], shots: readonly ShotRow[], clipOf: ClipOf): Counting {
  const chosen = cases.filter(({ lead, needed }) => lead.circled === true || isInShot(lead, needed, shots));
  const counting = chosen.length > 0 ? chosen : cases;
  return {
    leads: new Set(counting.map(({ lead }) => lead.id)),
    clips: new Set(counting.flatMap(({ lead, passes }) => [lead.id, ...passes.map(({ passes: { pass } }) => pass.id)])),
    chosen: chosen.length > 0,
    setLacks: missingRoles(matched, clipOf),
  };
}

function isInShot(lead: Clip, needed: readonly NeededRange[], shots: readonly ShotRow[]): boolean {
  return needed.some(({ basis }) => basis === 'shot-list') || shots.some((row) => row.take !== undefined && namesLead(row, lead));
}

/** The clips of the set, and those of other sets that a person confirmed into it. */
function clipsOf({ set }: MatchedSet, cases: readonly LeadCase[]): readonly Clip[] {
  const clips = new Map(set.clips.map((clip) => [clip.id, clip]));
  for (const { lead, passes } of cases) {
    for (const clip of [lead, ...passes.map((one) => one.passes.pass)]) clips.set(clip.id, clip);
  }
  return [...clips.values()];
}

/** Findings about one lead and the passes matched to it. */
function checkCase(matched: MatchedSet, one: LeadCase, counting: Counting, { clipOf }: DayAround, rules: CheckRules): readonly Finding[] {
  const { match, lead, own, passes, problems } = one;
  const heldByLead = new Set(own.filter(sharesCut).map(({ needed }) => needed));
  return [
    ...problems.map((problem) => checkShotRow(problem, lead)),
    ...own.flatMap((coverage) => checkLeadCovers(lead, coverage)),
    ...checkLeadHasPasses(matched, match, lead, counting.setLacks),
    ...checkReferenceCount(matched, match, lead),
    ...passes.flatMap(({ passes: pair, coverage }) => checkPass(pair, coverage.filter(({ needed }) => heldByLead.has(needed)), rules)),
    ...passes.flatMap((pass) => checkAmbiguity(lead, pass.match, rules.ambiguityMargin, clipOf)),
  ].map((finding) => weighLead(finding, lead, counting));
}

/** `coverage` is of ranges that the lead has a frame of: where it has none, that is the fault, and passes are not measured by it. */
function checkPass(passes: MatchedPasses, coverage: readonly PassCoverage[], { tolerances, minCleanFrames }: CheckRules): readonly Finding[] {
  return [
    ...(ratesDiffer(passes) ? [] : [...checkPassCovers(passes, coverage, minCleanFrames), ...checkSync(passes)]),
    ...checkRate(passes, tolerances),
    ...checkLens(passes, tolerances),
    ...checkCamera(passes, tolerances),
    ...checkPosition(passes, tolerances),
  ];
}

/** Findings about the set as a whole: what it lacks, what is left over, what is proposed, what only a guess says. */
function checkWhole(
  matched: MatchedSet,
  cases: readonly LeadCase[],
  counting: Counting,
  shots: readonly ShotRow[],
  { clipOf }: DayAround,
  rules: CheckRules,
): readonly Finding[] {
  const guessable = clipsOf(matched, cases).filter(({ id }) => counting.clips.has(id));
  return [
    ...checkLeadPass(matched),
    ...(cases.length === 0 ? checkSetHasPasses(matched, counting.setLacks) : shotsWithoutLead(cases, shots)),
    ...checkProposals(matched, clipOf).map((finding) => weighClips(finding, counting)),
    ...checkLeftOver(matched, rules.ambiguityMargin, clipOf),
    ...checkGuessedRoles(guessable),
  ];
}

function shotsWithoutLead(cases: readonly LeadCase[], shots: readonly ShotRow[]): readonly Finding[] {
  return shots.filter((row) => !cases.some(({ lead }) => namesLead(row, lead))).map((row) => checkShotHasLead(row, 'stop'));
}

/** Findings about one clip by itself. */
function checkClip(clip: Clip, cases: readonly LeadCase[], counting: Counting, { tolerances }: CheckRules): readonly Finding[] {
  const reading = checkReading(clip).map((finding) => weighReading(finding, clip, counting));
  if (!clip.usable) return reading;
  const conflict = checkRoleConflict(clip);
  // A clip that is taken for nothing because places contradict each other may be the very pass that is missing.
  if (clip.role === 'unknown') return [...reading, ...conflict];
  const alone = [...conflict, ...checkLength(clip, tolerances.lengthFrames), ...checkGaps(clip, coverageThatCounts(clip, cases, counting))];
  return [...reading, ...alone.map((finding) => weighClips(finding, counting))];
}

/** How a clip covers the leads that count, where it must cover them at all. */
function coverageThatCounts(clip: Clip, cases: readonly LeadCase[], { leads }: Counting): readonly PassCoverage[] {
  return cases
    .filter(({ lead }) => leads.has(lead.id))
    .flatMap(({ lead, own, passes }) => [
      ...(lead.id === clip.id ? own : []),
      ...passes.filter((one) => one.passes.pass.id === clip.id && mustCover(one.passes)).flatMap(({ coverage }) => coverage),
    ]);
}

/** Leads that count and the passes joined to them; a clean plate and references are not joined by their move. */
function joinedClips(cases: readonly LeadCase[], { leads }: Counting): readonly Clip[] {
  const joined = cases
    .filter(({ lead }) => leads.has(lead.id))
    .flatMap(({ lead, passes }) => [lead, ...passes.filter(({ match }) => match.role === 'swapped' || match.role === 'element').map((one) => one.passes.pass)]);
  return [...new Set(joined)];
}

function groupOf(code: Finding['code']): FindingGroup {
  return GROUP_OF.get(code) ?? 'reading';
}
