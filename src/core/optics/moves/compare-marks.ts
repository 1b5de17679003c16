import type { NoCost } from '../difference-cost.ts';
import { refusalsOfSetting } from '../difference-cost.ts';
import type { Refusal } from '../impossible.ts';
import type { Planes } from '../planes.ts';
import type { Plate } from '../plate.ts';
import { focalPixels, picturePoints } from '../plate.ts';
import { orientation } from '../projection.ts';
import { choosePlanes } from './customary-planes.ts';
import type { Nearness } from './frame-difference.ts';
import { frameDifference } from './frame-difference.ts';
import type { MovePoint, PointValue } from './mark.ts';
import { POINT_WORDS, soundPoint } from './mark.ts';
import type { MarkPair, MarkProblem } from './mark-problems.ts';
import { inTime, pairMarks } from './mark-problems.ts';
import type { Posed } from './posed-move.ts';
import { quaternionOf } from './quaternion.ts';
import { placeOnStage } from './stage.ts';
import type { StanceDifference } from './stance.ts';
import { stanceDifference } from './stance.ts';

/** One mark in both passes. */
export interface MarkDifference {
  readonly name: string;
  /** How much later the second pass reaches it, seconds; absent when either has no time for it. */
  readonly lateS?: number;
  /** How the second camera stood beside the first, in the first's own directions; what is not on record for both counts as equal. */
  readonly stance: Omit<StanceDifference, 'frame'>;
  /**
   * Px on the near and the far plane and between them; absent without a focal length, or where a plane lies behind the second camera. Without any of x, y and z
   * on record for both nothing is said of parallax; without some of them it is the least it can be.
   */
  readonly px?: { readonly nearPx: number; readonly farPx: number; readonly parallaxPx?: number };
  /** Values of the mark that are not on record for both, so that nothing is said of them: "z", "tilt". */
  readonly notCompared: readonly string[];
}

/** From one mark to the next in both passes. */
export interface LegDifference {
  readonly from: string;
  readonly to: string;
  readonly firstS: number;
  readonly secondS: number;
  /** How much longer the second pass takes, percent; below 0 it is faster. */
  readonly longerPercent: number;
}

/** Marks compared with marks. Nothing is said of what lies between them: no curve through marks a second apart is good to pixels. */
export interface MarkComparison {
  readonly kind: 'marks';
  readonly marks: readonly MarkDifference[];
  readonly legs: readonly LegDifference[];
  /** The mark with the most parallax, else the most px on the near plane. */
  readonly worst?: string;
  readonly problems: readonly MarkProblem[];
  /** Values no camera can have; they were left out. */
  readonly refusals: readonly Refusal[];
  readonly assumptions: readonly string[];
  readonly missing: readonly string[];
}

/** What marks are compared with: the plate, its planes, and the lens for marks that do not name one. */
export interface MarkSettings {
  readonly plate: Plate;
  readonly planes: Planes;
  readonly focalLengthMm?: number;
}

const COMPARED = ['x', 'y', 'z', 'panDeg', 'tiltDeg', 'rollDeg'] as const satisfies readonly PointValue[];

/** Compares the marks of a pass with the lead's, mark by mark by name. Never throws for what the marks hold. */
export function compareMarks(first: readonly MovePoint[], second: readonly MovePoint[], settings: MarkSettings): MarkComparison | NoCost {
  const refused = refusalsOfSetting(settings.plate, settings.planes);
  if (refused.length > 0) return { kind: 'refused', refusals: refused };
  const [sound, soundSecond] = [first.map(soundPoint), second.map(soundPoint)];
  const { pairs, problems } = pairMarks(sound.map(({ point }) => point), soundSecond.map(({ point }) => point));
  if (pairs.length === 0) return { kind: 'unknown', missing: ['marks of one name in both passes'] };
  const { nearness, assumptions, missing } = choosePlanes(settings.planes);
  const marks = pairs.map((pair) => differenceOf(pair, settings, nearness));
  const worst = marks.toSorted((a, b) => badness(b) - badness(a))[0];
  return {
    kind: 'marks',
    marks,
    legs: legsOf(inTime(pairs)),
    ...(worst?.px === undefined ? {} : { worst: worst.name }),
    problems,
    refusals: [...sound, ...soundSecond].flatMap(({ refusals }) => refusals),
    assumptions: [...assumptions, 'x to the right, y ahead, z up; pan to the right and tilt up count as positive'],
    missing: [...missing, ...lackingOf(marks)],
  };
}

function differenceOf({ first, second }: MarkPair, settings: MarkSettings, nearness: Nearness): MarkDifference {
  const notCompared = COMPARED.filter((key) => first[key] === undefined || second[key] === undefined);
  const hasLens = first.focalLengthMm !== undefined && second.focalLengthMm !== undefined;
  const focal = first.focalLengthMm ?? settings.focalLengthMm ?? second.focalLengthMm;
  const as = (point: MovePoint, key: (typeof COMPARED)[number]): number => (notCompared.includes(key) ? (first[key] ?? second[key] ?? 0) : (point[key] ?? 0));
  const poseOf = (point: MovePoint): Posed => ({
    frame: 0,
    ...placeOnStage([as(point, 'x'), as(point, 'y'), as(point, 'z')]),
    ...quaternionOf(orientation({ panDeg: as(point, 'panDeg'), tiltDeg: as(point, 'tiltDeg'), rollDeg: as(point, 'rollDeg') })),
    // Any lens does for the stance; px are counted only with one on record.
    ...focalPixels(settings.plate, (hasLens ? point.focalLengthMm : focal) ?? settings.plate.sensor.widthMm),
  });
  const [a, b] = [poseOf(first), poseOf(second)];
  const { frame: _frame, ...stance } = stanceDifference(a, b);
  const difference = focal === undefined ? undefined : frameDifference(a, b, picturePoints(settings.plate), nearness);
  return {
    name: first.name,
    ...(first.timeS === undefined || second.timeS === undefined ? {} : { lateS: second.timeS - first.timeS + 0 }),
    stance,
    ...(difference === undefined ? {} : { px: { nearPx: difference.nearPx, farPx: difference.farPx, ...(isPlaced(notCompared) ? { parallaxPx: difference.parallaxPx } : {}) } }),
    notCompared: notCompared.map((key) => POINT_WORDS[key]),
  };
}

function isPlaced(notCompared: readonly string[]): boolean {
  return !['x', 'y', 'z'].every((axis) => notCompared.includes(axis));
}

function lackingOf(marks: readonly MarkDifference[]): readonly string[] {
  return [
    ...(marks.some(({ px }) => px === undefined) ? ['focal length'] : []),
    ...(marks.some(({ notCompared }) => !isPlaced(notCompared)) ? ['camera position (x, y, z) at the marks'] : []),
  ];
}

function badness({ px }: MarkDifference): number {
  return px === undefined ? -1 : (px.parallaxPx ?? 0) * 1e6 + px.nearPx;
}

/** Marks nearer together than this are one moment: the ratio of two such times says nothing. */
const SHORTEST_LEG_S = 0.01;

function legsOf(pairs: readonly MarkPair[]): readonly LegDifference[] {
  return pairs.slice(1).flatMap(({ first: to, second: toSecond }, index) => {
    const from = pairs[index];
    const firstS = (to.timeS ?? 0) - (from?.first.timeS ?? 0);
    const secondS = (toSecond.timeS ?? 0) - (from?.second.timeS ?? 0);
    return from === undefined || firstS < SHORTEST_LEG_S || secondS < SHORTEST_LEG_S ? [] : [{ from: from.first.name, to: to.name, firstS, secondS, longerPercent: (secondS / firstS - 1) * 100 + 0 }];
  });
}
