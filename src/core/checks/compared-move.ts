import type { Clip } from '../material/clip.ts';
import { layMove } from '../material/move-on-clip.ts';
import type { MoveMark } from '../material/shot-list.ts';
import type { Tolerance } from '../material/tolerance.ts';
import { scaledTo } from '../material/tolerance.ts';
import type { RecordedMove, TiedMove } from '../material/tracked-move.ts';
import type { MarkComparison } from '../optics/moves/compare-marks.ts';
import { compareMarks } from '../optics/moves/compare-marks.ts';
import type { MoveComparison } from '../optics/moves/compare-moves.ts';
import { compareMoves } from '../optics/moves/compare-moves.ts';
import type { Move } from '../optics/moves/move.ts';
import type { NoCost } from '../optics/difference-cost.ts';
import type { Planes } from '../optics/planes.ts';
import type { CheckRules } from './check-rules.ts';
import { cameraStateOf, planesOfClip, plateOf } from './camera-of-clip.ts';
import type { ClipPlate } from './camera-of-clip.ts';
import { clipName } from './passes.ts';
import type { MatchedPasses } from './passes.ts';
import { marksOfClip, timeMarks } from './marks-of-pass.ts';

/** What is on record of the moves of a set. */
export interface MoveRecords {
  readonly marks: readonly MoveMark[];
  readonly movesOf: (clip: Clip) => readonly TiedMove[];
}

/** The move of a pass beside that of its lead. `leadTimes` are seconds from the lead's first frame, by mark, where timecode tells. Frames of a tracked comparison are `each` samples to a frame of the lead, counted from its first. */
export type ComparedMove =
  | (Seen & { readonly kind: 'tracked'; readonly comparison: MoveComparison; readonly lead: RecordedMove; readonly pass: RecordedMove; readonly each: number })
  | (Seen & { readonly kind: 'marks'; readonly comparison: MarkComparison; readonly leadMarks: readonly MoveMark[]; readonly passMarks: readonly MoveMark[]; readonly timing: string; readonly leadTimes: ReadonlyMap<string, number> })
  | { readonly kind: 'not-compared'; readonly passes: MatchedPasses; readonly why: string; readonly evidence: readonly string[] };

/** How the comparison was seen. */
export interface Seen {
  readonly passes: MatchedPasses;
  readonly planes: Planes;
  /** In px of this plate. */
  readonly limits: { readonly shiftPx: Tolerance; readonly parallaxPx: Tolerance };
  /** No hand repeats a move to the pixel: parallax stops such a set only where the camera stood this far off, mm. Absent for a rig. */
  readonly handMm?: number;
  /** Taken for granted of the plate. */
  readonly plateAssumptions: readonly string[];
}

/** Compares the moves of two passes by what the trackers recorded, else by the marks; undefined when neither is on record for both in any way. */
export function compareMove(passes: MatchedPasses, { marks, movesOf }: MoveRecords, { roleWords = [], sensorModes, tolerances }: Pick<CheckRules, 'roleWords' | 'sensorModes' | 'tolerances'>): ComparedMove | undefined {
  const { lead, pass } = passes;
  const [leadTies, passTies] = [movesOf(lead), movesOf(pass)];
  const needsMarks = passes.method.movingCamera;
  const [leadMarks, passMarks] = [lead, pass].map((clip) => (needsMarks ? marksOfClip(clip, marks, roleWords) : []));
  const found = plateOf(lead, sensorModes) ?? UNKNOWN_PLATE;
  const { widthPx } = found.plate;
  const limits = { shiftPx: scaledTo(widthPx, tolerances.shiftPx), parallaxPx: scaledTo(widthPx, tolerances.parallaxPx) };
  const byHand = passes.method.movingCamera && !passes.method.repeatedMove ? { handMm: tolerances.heightMm.stop } : {};
  const seen: SeenPlate = { ...byHand, passes, planes: planesOfClip(lead), limits, plateAssumptions: found.assumptions, found };
  const tracked = leadTies.length > 0 && passTies.length > 0 ? compareTracked(seen, leadTies, passTies) : undefined;
  if (tracked?.kind === 'tracked') return tracked;
  if (leadMarks !== undefined && passMarks !== undefined && leadMarks.length > 0 && passMarks.length > 0) return compareNoted(seen, leadMarks, passMarks);
  if (tracked !== undefined) return tracked;
  const has = [leadTies.length > 0, passTies.length > 0, (leadMarks ?? []).length > 0, (passMarks ?? []).length > 0];
  if (!needsMarks || !(has[0] || has[2]) || !(has[1] || has[3])) return undefined;
  return { kind: 'not-compared', passes, why: `the move of ${clipName(lead)} is on record as ${has[0] ? 'tracked samples' : 'marks'}, that of ${clipName(pass)} as ${has[1] ? 'tracked samples' : 'marks'}`, evidence: [...leadTies, ...passTies].map(({ evidence }) => evidence) };
}

/** Counted on when nobody says how large the picture is. */
const UNKNOWN_PLATE: ClipPlate = {
  plate: { widthPx: 4096, heightPx: 2160, sensor: { widthMm: 24.89, heightMm: 13.126 }, squeeze: 1 },
  assumptions: ['the raster is not on record: px are counted on a plate of 4096 × 2160 px, from a sensor as wide as Super 35 film, 24.89 mm (common practice)'],
};

type SeenPlate = Seen & { readonly found: ClipPlate };

function compareTracked({ found, ...seen }: SeenPlate, leadTies: readonly TiedMove[], passTies: readonly TiedMove[]): ComparedMove {
  const { passes } = seen;
  const [leadTie, passTie] = bestPair(leadTies, passTies);
  const evidence = [leadTie, passTie].flatMap((tie) => (tie === undefined ? [] : [tie.evidence]));
  const not = (why: string): ComparedMove => ({ kind: 'not-compared', passes, why, evidence });
  if (leadTie === undefined || passTie === undefined) return not('a tracked move is missing');
  const [a, b] = [layMove(leadTie.move, passes.lead), layMove(passTie.move, passes.pass)];
  if (a.kind === 'not-laid') return not(`${leadTie.move.file} cannot be laid under ${clipName(passes.lead)}: ${a.why}`);
  if (b.kind === 'not-laid') return not(`${passTie.move.file} cannot be laid under ${clipName(passes.pass)}: ${b.why}`);
  const { start, end } = passes.frames;
  const { plate, assumptions } = withTrackersSensor(found, leadTie.move);
  const comparison = compareMoves(
    fromClip(leadTie.move, a.start, Math.max(0, start) * a.each, Math.min(end, passes.lead.frames ?? end) * a.each),
    fromClip(passTie.move, b.start, 0, (passes.pass.frames ?? Number.MAX_SAFE_INTEGER) * b.each),
    { plate, planes: seen.planes, offset: passes.sync.offset * a.each, ...lensOf(passes.lead) },
  );
  if (comparison.kind !== 'moves') return not(noCostText(comparison));
  return { kind: 'tracked', ...seen, plateAssumptions: assumptions, comparison, lead: leadTie.move, pass: passTie.move, each: a.each };
}

/** A sensor that no table knows, as the samples have it. */
function withTrackersSensor(found: ClipPlate, { file, camera: { sensor } }: RecordedMove): ClipPlate {
  if (sensor === undefined || found.sensorFrom !== undefined) return found;
  return { plate: { ...found.plate, sensor }, assumptions: [`the sensor is ${sensor.widthMm} × ${sensor.heightMm} mm, as ${file} has it`] };
}

/** Moves of one tracker rather than of two, since devices may count their axes differently; else the first of each. */
function bestPair(lead: readonly TiedMove[], pass: readonly TiedMove[]): readonly [TiedMove | undefined, TiedMove | undefined] {
  const same = lead.find(({ move }) => pass.some((other) => other.move.source === move.source));
  return same === undefined ? [lead[0], pass[0]] : [same, pass.find(({ move }) => move.source === same.move.source)];
}

/** The samples from `first` (in) to `end` (out), counted from the clip's first frame. */
function fromClip({ rate, samples }: RecordedMove, zero: number, first: number, end: number): Move {
  return { rate, samples: samples.filter(({ frame }) => frame - zero >= first && frame - zero < end).map((sample) => ({ ...sample, frame: sample.frame - zero })) };
}

function compareNoted({ found, ...seen }: SeenPlate, leadMarks: readonly MoveMark[], passMarks: readonly MoveMark[]): ComparedMove {
  const timed = timeMarks(seen.passes, leadMarks, passMarks);
  const comparison = compareMarks(timed.lead, timed.pass, { plate: found.plate, planes: seen.planes, ...lensOf(seen.passes.lead) });
  const leadTimes = new Map(timed.lead.flatMap(({ name, timeS }) => (timeS === undefined || !timed.fromStart ? [] : [[name, timeS] as const])));
  if (comparison.kind === 'marks') return { kind: 'marks', ...seen, comparison, leadMarks, passMarks, timing: timed.timing, leadTimes };
  return { kind: 'not-compared', passes: seen.passes, why: noCostText(comparison), evidence: [...leadMarks, ...passMarks].map(({ from }) => from) };
}

function lensOf(lead: Clip): { readonly focalLengthMm?: number } {
  const { focalLengthMm } = cameraStateOf(lead);
  return focalLengthMm === undefined ? {} : { focalLengthMm };
}

function noCostText(cost: NoCost): string {
  if (cost.kind === 'unknown') return `not on record: ${cost.missing.join(', ')}`;
  return cost.refusals.map(({ what, found, expected }) => `${what} is ${found}, expected ${expected}`).join('; ');
}
