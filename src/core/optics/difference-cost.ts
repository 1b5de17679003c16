import type { CameraState } from './camera-state.ts';
import { refusalsOf } from './camera-state.ts';
import { breathing, subjectFromLens } from './image-scale.ts';
import type { Refusal } from './impossible.ts';
import { assertDistance, attempt, refusalOf, unsignedZero } from './impossible.ts';
import type { Parallax } from './parallax.ts';
import { parallaxOf } from './parallax.ts';
import type { Part } from './parts.ts';
import { assumptionsFor, missingFor, needSensor, valueOf } from './parts.ts';
import type { Planes } from './planes.ts';
import type { PlacePx, Plate } from './plate.ts';
import { assertPlate, byPlace, focalPixels, picturePoints } from './plate.ts';
import type { CameraPair, PicturePoint } from './projection.ts';
import { displacementOrRefusal, preparePair } from './projection.ts';
import { leftAfterSimilarity } from './warp.ts';

/** What a difference does to the picture of the second pass, in px of the plate. No figure is ever NaN or infinite. */
export interface DifferenceCost {
  readonly kind: 'cost';
  /** How far things lie from where the first pass has them, as filmed; on the worse of the planes that are known. */
  readonly filmed: PlacePx;
  /** The largest shift a 2-D warp makes to lay the far plane over the first pass: the part that can be undone. */
  readonly removablePx: number;
  /** What of that a single shift, scale and turn leaves over, so that only a corner pin undoes it. */
  readonly keystonePx: number;
  /** What stays between near and far whatever the warp. */
  readonly parallax: Parallax;
  /** Whether the figure rests on the sensor's size: focal length, focus and roll give the same px on any sensor. */
  readonly needsSensor: boolean;
  readonly assumptions: readonly string[];
  /** Measurements without which a figure is a bound or left out. */
  readonly missing: readonly string[];
}

/** The cost cannot be worked out: a value no camera can have, or too little on record. */
export type NoCost = { readonly kind: 'refused'; readonly refusals: readonly Refusal[] } | { readonly kind: 'unknown'; readonly missing: readonly string[] };

/**
 * What it costs that `parts` of the second camera differ from the first; the rest of the second is taken to be as the first, so that each difference can be
 * counted alone. Focus counts as thin-lens breathing, an estimate. Never throws for values of the cameras, the plate or the planes.
 */
export function differenceCost(first: CameraState, second: CameraState, plate: Plate, planes: Planes, parts: readonly Part[]): DifferenceCost | NoCost {
  const refusals = [...refusalsOf(first), ...refusalsOf(second), ...refusalsOfSetting(plate, planes)];
  if (refusals.length > 0) return { kind: 'refused', refusals };
  const missing = missingFor(parts, first, second);
  if (missing.length > 0) return { kind: 'unknown', missing };
  const cost = attempt(() => costOf(pairOf(first, second, plate, parts), plate, planes));
  if ('refusal' in cost) return { kind: 'refused', refusals: [cost.refusal] };
  const { parallax } = cost.made;
  return {
    kind: 'cost',
    ...cost.made,
    needsSensor: needSensor(parts),
    assumptions: [...assumptionsFor(parts, first), ...(parallax.kind === 'none' ? [] : planes.assumptions)],
    missing: parallax.missing,
  };
}

function costOf(pair: CameraPair, plate: Plate, planes: Planes): Pick<DifferenceCost, 'filmed' | 'removablePx' | 'keystonePx' | 'parallax'> {
  const points = picturePoints(plate);
  const far = points.map((point) => displacementOrRefusal(pair, point, planes.farM ?? Number.POSITIVE_INFINITY));
  const near = planes.nearM;
  const lengths = far.map(lengthOf);
  const onNear = near === undefined ? lengths : points.map((point) => lengthOf(displacementOrRefusal(pair, point, near)));
  return {
    filmed: byPlace(lengths.map((length, index) => Math.max(length, onNear[index] ?? 0))),
    removablePx: Math.max(...lengths),
    keystonePx: Math.max(...leftAfterSimilarity(points, far)),
    parallax: parallaxOf(pair, points, planes),
  };
}

/**
 * The second camera re-framed as an operator would after a change of height: tilted so that the middle of the first picture, on a plane `distanceM` away,
 * is the middle again. Its tilt replaces whatever was on record.
 */
export function reframed(first: CameraState, second: CameraState, distanceM: number): CameraState {
  const tilt = ((first.tiltDeg ?? 0) * Math.PI) / 180;
  const raised = (second.heightM ?? 0) - (first.heightM ?? 0);
  return { ...second, tiltDeg: unsignedZero((Math.atan2(Math.sin(tilt) * distanceM - raised, Math.cos(tilt) * distanceM) * 180) / Math.PI) };
}

/** The two cameras as poses: the first at zero, the second apart from it in `parts` alone. */
function pairOf(first: CameraState, second: CameraState, plate: Plate, parts: readonly Part[]): CameraPair {
  const apart = (part: Part): number => (parts.includes(part) ? (valueOf(part, second) ?? 0) - (valueOf(part, first) ?? 0) : 0);
  // A roll or a zoom moves the picture by as much whatever the focal length, so any stands in for an unknown one.
  const focalLengthMm = first.focalLengthMm ?? plate.sensor.widthMm;
  const [tiltDeg, rollDeg] = [first.tiltDeg ?? 0, first.rollDeg ?? 0];
  const breath = parts.includes('focus') ? breathingOf(focalLengthMm, first, second) : 0;
  return preparePair(
    { xMm: 0, yMm: 0, zMm: 0, panDeg: 0, tiltDeg, rollDeg, ...focalPixels(plate, focalLengthMm) },
    {
      xMm: apart('side') * 1000, yMm: -apart('height') * 1000, zMm: apart('forward') * 1000,
      panDeg: apart('pan'), tiltDeg: tiltDeg + apart('tilt'), rollDeg: rollDeg + apart('roll'),
      ...focalPixels(plate, (focalLengthMm + apart('focalLength')) * (1 + breath)),
    },
  );
}

function breathingOf(focalLengthMm: number, { focusM: from }: CameraState, { focusM: to }: CameraState): number {
  return from === undefined || to === undefined ? 0 : breathing(focalLengthMm, subjectFromLens(focalLengthMm, from * 1000), subjectFromLens(focalLengthMm, to * 1000));
}

function lengthOf(shift: PicturePoint): number {
  return Math.hypot(shift.x, shift.y);
}

/** What of the plate and the planes cannot be. */
export function refusalsOfSetting(plate: Plate, { nearM, farM }: Planes): readonly Refusal[] {
  const guards = [() => assertPlate(plate), ...[nearM, farM].map((metres) => () => assertDistance('distance', (metres ?? 1) * 1000))];
  return guards.flatMap((guard) => refusalOf(guard) ?? []);
}
