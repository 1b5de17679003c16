import type { PassCoverage } from '../coverage/coverage.ts';
import { namesLead } from '../coverage/shot-of-lead.ts';
import type { Clip } from '../material/clip.ts';
import type { Finding, FindingCode, FindingGroup } from '../material/finding.ts';
import { FINDING_CODES } from '../material/finding.ts';
import type { MatchedSet, PlateSet } from '../material/plate-set.ts';
import type { ShotRow } from '../material/shot-list.ts';
import { checkCamera } from './camera.ts';
import type { CheckRules, DayAround } from './check-rules.ts';
import { checkClock } from './clock.ts';
import type { Counting } from './counting.ts';
import { countingOf, weighClips, weighLead, weighReading } from './counting.ts';
import { checkGaps, checkLeadCovers, checkPassCovers, checkSync, checkSyncAgrees, sharesCut } from './coverage.ts';
import { findDuplicates, raiseDuplicate } from './duplicates.ts';
import type { Belonging } from './faults.ts';
import type { JudgedSet } from './judged.ts';
import type { LeadCase } from './lead-case.ts';
import { clipsOf, coverageOf, joinedClips, layOutCases, ratesDiffer } from './lead-case.ts';
import { checkLength } from './length.ts';
import { checkLens } from './lens.ts';
import { checkAmbiguity, checkLeftOver, checkProposals } from './match-doubts.ts';
import { checkMarks } from './move.ts';
import { checkOnRecord, notOnRecord } from './on-record.ts';
import { checkAlong, followPasses } from './pass-along.ts';
import { opticsOf } from './pair-optics.ts';
import type { MatchedPasses } from './passes.ts';
import { checkPictures } from './picture.ts';
import { pictureWords } from './picture-verdict.ts';
import { checkPosition } from './position.ts';
import { checkLeadHasPasses, checkLeadPass, checkReferenceCount, checkSetHasPasses, checkShotHasLead, missingRoles } from './presence.ts';
import { checkRate, checkShowRate } from './rate.ts';
import { checkReading, checkShotRow } from './reading.ts';
import { checkGuessedRoles, checkRoleConflict } from './roles.ts';
import { sortFindings } from './severity.ts';
import { reasonFor, verdictOf } from './verdict.ts';

/** Judges one set: what it lacks, how far its passes hold what is needed, and where they differ. */
export function judgeSet(matched: MatchedSet, day: DayAround, rules: CheckRules): JudgedSet {
  const leads = matched.matches.flatMap(({ lead }) => day.clipOf(lead) ?? []);
  const shots = day.shotsFor(leads.length > 0 ? leads : matched.set.clips);
  const cases = layOutCases(matched, shots, day.clipOf, rules.handles);
  const counting = countingOf(cases, shots, missingRoles(matched, day.clipOf));
  const judged = cases.filter(({ lead }) => counting.leads.has(lead.id));
  const clips = clipsOf(matched, cases);
  const marks = day.marksFor(clips);
  const records = { marks, movesOf: day.movesOf ?? (() => []) };
  const along = followPasses(cases, records, rules);
  const duplicates = findDuplicates(clips.filter(({ id }) => day.twins.has(id)));
  const findings = sortFindings(
    [
      ...cases.flatMap((one) => checkCase(matched, one, counting, day, rules)),
      ...checkWhole(matched, cases, counting, shots, day, rules),
      ...clips.flatMap((clip) => checkClip(clip, judged, counting, rules)),
      ...checkMarks(matched.set, joinedClips(judged), records),
      ...along.flatMap((one) => checkAlong(one).map((finding) => weighLead(finding, one.passes.lead, counting))),
      ...checkClock(clips, () => matched.set).map((finding) => weighClips(finding, counting)),
      ...duplicates.map((one) => weighClips(raiseDuplicate(one), counting)),
    ].filter(({ code }) => !matched.set.method.skipChecks.includes(groupOf(code))),
  );
  const pictures = cases.flatMap(({ lead }) => day.picturesOf?.(lead.id) ?? []);
  const comparable = judged.flatMap(({ passes }) => passes.map((one) => one.passes));
  return {
    matched,
    verdict: verdictOf(findings),
    reason: reasonFor(findings, { method: matched.set.method.name, leads: judged.map(({ lead }) => lead), notOnRecord: notOnRecord(comparable), pictures: pictureWords(pictures) }),
    findings,
    countingLeads: judged.map(({ lead }) => lead.id),
    needed: cases.flatMap(({ needed }) => needed),
    coverage: cases.flatMap(({ own, passes }) => [...own, ...passes.flatMap(({ coverage }) => coverage)]),
    missingRoles: counting.setLacks,
    ...(counting.setLacks.includes('clean') && !matched.set.method.movingCamera ? { enoughCleanFrames: rules.minCleanFrames } : {}),
    correctionsUsed: day.correctionsFor(new Set(clips.map(({ id }) => id))),
    shots,
    marks,
    ...(along.length === 0 ? {} : { along }),
    ...(pictures.length === 0 ? {} : { pictures }),
  };
}

/** Findings about one lead and the passes matched to it. */
function checkCase(matched: MatchedSet, one: LeadCase, counting: Counting, { clipOf, picturesOf }: DayAround, rules: CheckRules): readonly Finding[] {
  const { match, lead, own, passes, problems } = one;
  const heldByLead = new Set(own.filter(sharesCut).map(({ needed }) => needed));
  return [
    ...problems.map((problem) => checkShotRow(problem, lead)),
    ...own.flatMap((coverage) => checkLeadCovers(lead, coverage)),
    ...checkShowRate(lead, rules.baseRate),
    ...checkLeadHasPasses(matched, match, lead, counting.setLacks, { clipOf, minCleanFrames: rules.minCleanFrames }),
    ...checkReferenceCount(matched, match, lead),
    ...checkOnRecord(passes.map((pass) => pass.passes), rules.notOnRecord ?? 'warn'),
    ...passes.flatMap(({ passes: pair, coverage }) => checkPass(pair, coverage.filter(({ needed }) => heldByLead.has(needed)), rules)),
    ...checkPictures(picturesOf?.(lead.id), matched.set.method, { tolerances: rules.tolerances, clipOf }),
    ...passes.flatMap((pass) => checkAmbiguity(lead, pass.match, rules.ambiguityMargin, clipOf)),
  ].map((finding) => weighLead(finding, lead, counting));
}

/** `coverage` is of ranges that the lead has a frame of: where it has none, that is the fault, and passes are not measured by it. */
function checkPass(passes: MatchedPasses, coverage: readonly PassCoverage[], { tolerances, minCleanFrames, sensorModes }: CheckRules): readonly Finding[] {
  const optics = opticsOf(passes, tolerances, sensorModes);
  return [
    ...(ratesDiffer(passes) ? [] : [...checkPassCovers(passes, coverage, minCleanFrames), ...checkSync(passes), ...checkSyncAgrees(passes)]),
    ...checkRate(passes, tolerances, optics),
    ...checkLens(passes, tolerances, optics),
    ...checkCamera(passes, tolerances, optics),
    ...checkPosition(passes, tolerances, optics),
  ];
}

/** Findings about the set as a whole: what it lacks, what is left over, what is proposed, what only a guess says. */
function checkWhole(
  matched: MatchedSet,
  cases: readonly LeadCase[],
  counting: Counting,
  shots: readonly ShotRow[],
  day: DayAround,
  rules: CheckRules,
): readonly Finding[] {
  const belongs = strayOf(matched.set, day);
  const guessable = clipsOf(matched, cases).filter(({ id }) => counting.clips.has(id));
  return [
    ...checkLeadPass(matched, belongs),
    ...(cases.length === 0 ? checkSetHasPasses(matched, counting.setLacks, rules.minCleanFrames, belongs) : shotsWithoutLead(cases, shots)),
    ...checkProposals(matched, day.clipOf).map((finding) => weighClips(finding, counting)),
    ...checkLeftOver(matched, rules.ambiguityMargin, day),
    ...checkGuessedRoles(guessable),
  ];
}

/** The first clip of a set that matching proposes for the lead of another. */
function strayOf({ clips }: PlateSet, { belongsTo }: DayAround): Belonging | undefined {
  for (const clip of clips) {
    const found = belongsTo?.(clip.id);
    if (found !== undefined) return { clip, ...found };
  }
  return undefined;
}

function shotsWithoutLead(cases: readonly LeadCase[], shots: readonly ShotRow[]): readonly Finding[] {
  return shots.filter((row) => !cases.some(({ lead }) => namesLead(row, lead))).map((row) => checkShotHasLead(row, 'stop'));
}

/** Findings about one clip by itself. */
function checkClip(clip: Clip, judged: readonly LeadCase[], counting: Counting, { tolerances }: CheckRules): readonly Finding[] {
  const reading = checkReading(clip).map((finding) => weighReading(finding, clip, counting));
  if (!clip.usable) return reading;
  const conflict = checkRoleConflict(clip);
  // A clip that is taken for nothing because places contradict each other may be the very pass that is missing.
  if (clip.role === 'unknown') return [...reading, ...conflict];
  const alone = [...conflict, ...checkLength(clip, tolerances.lengthFrames), ...checkGaps(clip, () => coverageOf(clip, judged))];
  return [...reading, ...alone.map((finding) => weighClips(finding, counting))];
}

function groupOf(code: FindingCode): FindingGroup {
  return GROUP_OF.get(code) ?? 'reading';
}

const GROUP_OF: ReadonlyMap<string, FindingGroup> = new Map(
  // Object.entries forgets that its keys are the groups.
  Object.entries(FINDING_CODES).flatMap(([group, codes]) => codes.map((code) => [code, group as FindingGroup] as const)),
);
