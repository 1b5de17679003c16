import { checkClock } from '../../core/checks/clock.ts';
import type { Duplicate } from '../../core/checks/duplicates.ts';
import { findDuplicates, raiseDuplicate } from '../../core/checks/duplicates.ts';
import type { CheckRules, DayAround } from '../../core/checks/check-rules.ts';
import { judgeSet } from '../../core/checks/judge-set.ts';
import type { JudgedDay, JudgedSet } from '../../core/checks/judged.ts';
import type { LeadPictures } from '../../core/checks/lead-pictures.ts';
import { raiseNothingNamed, raiseUnmatched } from '../../core/checks/match-doubts.ts';
import { checkShotHasLead } from '../../core/checks/presence.ts';
import { checkReading, checkUnknownSlate } from '../../core/checks/reading.ts';
import { rowsOfClips } from '../../core/checks/rows-of-clips.ts';
import { lowered, sortFindings } from '../../core/checks/severity.ts';
import type { Clip, ClipId } from '../../core/material/clip.ts';
import type { Correction } from '../../core/material/correction.ts';
import type { GroupedDay, MatchedDay, Unplaced } from '../../core/material/day.ts';
import type { Finding } from '../../core/material/finding.ts';
import type { PlateSet } from '../../core/material/plate-set.ts';

/**
 * Judges every plate set of the day, and what belongs to none. Pure: the same day, pictures and rules give the same findings.
 * `pictures` is what was measured of them, a lead each.
 */
export function checkDay(matched: MatchedDay, rules: CheckRules, pictures: readonly LeadPictures[] = []): JudgedDay {
  const { clips, unplaced, shots, marks, moves, findings, cutRest, correctionsUsed } = matched.grouped;
  const byId = new Map(clips.map((clip) => [clip.id, clip]));
  const duplicates = findDuplicates(clips);
  const copies = new Set(duplicates.map(({ second }) => second.id));
  const picturesByLead = new Map(pictures.map((one) => [one.lead, one]));
  const day: DayAround = {
    clipOf: (id) => byId.get(id),
    shotsFor: rowsOfClips(shots),
    marksFor: rowsOfClips(marks),
    ...(moves === undefined ? {} : { movesOf: (clip) => moves.filter((tie) => tie.clip === clip.id) }),
    ...(pictures.length === 0 ? {} : { picturesOf: (lead: ClipId) => picturesByLead.get(lead) }),
    belongsTo: belongings(matched, byId),
    twins: new Set(duplicates.flatMap(({ first, second }) => [first.id, second.id])),
    correctionsFor: correctionFinder(rules.corrections, correctionsUsed),
  };
  const sets = matched.sets.map((set) => judgeSet(set, day, rules));
  return {
    clips,
    sets,
    unplaced,
    findings: sortFindings([
      ...findings,
      ...unplaced.flatMap((one) => checkUnplaced(one, byId.get(one.clip), copies)),
      ...checkNothingNamed(matched, day),
      ...checkAcrossSets(matched, duplicates),
      ...checkShots(matched, sets),
    ]),
    ...(matched.grouped.unusedRows === undefined ? {} : { unusedRows: matched.grouped.unusedRows }),
    ...(cutRest === undefined ? {} : { cutRest }),
  };
}

/** Which lead of another set each proposed clip may belong to. */
function belongings({ sets }: MatchedDay, byId: ReadonlyMap<ClipId, Clip>): NonNullable<DayAround['belongsTo']> {
  const found = new Map(
    sets.flatMap(({ set, proposed }) =>
      proposed.flatMap(({ lead: id, clip, role }) => {
        const lead = byId.get(id);
        return lead === undefined || set.clips.some((own) => own.id === clip) ? [] : [[clip, { lead, role }] as const];
      }),
    ),
  );
  return (clip) => found.get(clip);
}

/** A clip in no set: what is wrong with its reading, and that nobody knows where it belongs. An ordinary shot belongs nowhere. */
function checkUnplaced({ why, ordinary }: Unplaced, clip: Clip | undefined, copies: ReadonlySet<ClipId>): readonly Finding[] {
  if (clip === undefined) return [];
  const reading = checkReading(clip);
  if (!clip.usable) return reading;
  if (ordinary === true) return reading.map((finding) => lowered(finding, 'note', 'its set-up is no plate set'));
  if (copies.has(clip.id)) return reading;
  const lost = clip.slate === undefined && clip.forSlate === undefined ? checkUnknownSlate(clip) : raiseUnmatched(clip, why, true);
  return [...reading, lost];
}

/** Ordinary shots are no fault, but a day of nothing else may be one whose passes nobody named. */
function checkNothingNamed({ grouped: { unplaced }, sets }: MatchedDay, { clipOf }: DayAround): readonly Finding[] {
  const ordinary = unplaced.filter((one) => one.ordinary === true).flatMap(({ clip }) => clipOf(clip) ?? []);
  return sets.length > 0 || ordinary.length === 0 ? [] : [raiseNothingNamed(ordinary)];
}

/** Clips of different sets, or of none, that cannot both be true. What lies within one set the set says itself. */
function checkAcrossSets({ grouped: { clips }, sets }: MatchedDay, duplicates: readonly Duplicate[]): readonly Finding[] {
  const setOfClip = new Map<ClipId, PlateSet>(sets.flatMap(({ set }) => set.clips.map((clip) => [clip.id, set] as const)));
  const setOf = (clip: ClipId): PlateSet | undefined => setOfClip.get(clip);
  const acrossSets = ({ subject: [first = '', second = ''] }: Finding): boolean => setOf(first) === undefined || setOf(first)?.id !== setOf(second)?.id;
  // The second copy of a recording has its timecode too, of course.
  const copies = new Set(duplicates.map(({ second }) => second));
  const recordings = clips.filter((clip) => !copies.has(clip));
  return [...checkClock(recordings, setOf), ...duplicates.map(raiseDuplicate)].filter(acrossSets);
}

/** Rows of the shot list for set-ups of which nothing is here: the media may be elsewhere, so it is no more than a `warn`. */
function checkShots({ grouped: { shots, clips } }: MatchedDay, sets: readonly JudgedSet[]): readonly Finding[] {
  const told = new Set(sets.flatMap((set) => set.shots));
  const others = shots.filter((row) => !told.has(row));
  // A row may name the slate of a pass instead of its lead's, or an ordinary shot.
  const here = new Set(rowsOfClips(others)(others.length === 0 ? [] : clips));
  return others.filter((row) => !here.has(row)).map((row) => checkShotHasLead(row, 'warn'));
}

/** Finds the corrections that were used on any of some clips, in the order of the file. */
function correctionFinder(corrections: readonly Correction[], used: GroupedDay['correctionsUsed']): DayAround['correctionsFor'] {
  const clipsOf = new Map(used.map(({ id, clips }) => [id, clips]));
  return (ids) => corrections.filter(({ id }) => clipsOf.get(id)?.some((clip) => ids.has(clip)) === true);
}
