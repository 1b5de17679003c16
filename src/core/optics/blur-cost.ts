import type { CameraState, Iris } from './camera-state.ts';
import { refusalsOf } from './camera-state.ts';
import { blurDiscOnTape } from './depth-of-field.ts';
import type { NoCost } from './difference-cost.ts';
import { refusalsOfSetting } from './difference-cost.ts';
import { exactStop } from './exposure.ts';
import { attempt } from './impossible.ts';
import type { Planes } from './planes.ts';
import type { Plate } from './plate.ts';
import { pixelPitch } from './plate.ts';

/** Blur discs of a point on one plane in both passes, px across. */
export interface BlurOnPlane {
  readonly distanceM: number | 'infinity';
  readonly firstPx: number;
  readonly secondPx: number;
  /** Second less first: above 0 the second is softer. */
  readonly differencePx: number;
}

/** How differently sharp two passes are: on the near and the far plane, as far as they are known. */
export interface BlurCost {
  readonly kind: 'blur';
  readonly planes: readonly BlurOnPlane[];
  /** The largest difference of blur discs, either way, px. */
  readonly worstPx: number;
  readonly assumptions: readonly string[];
  readonly missing: readonly string[];
}

/**
 * What different focus, iris or focal length do to sharpness, in px of blur disc on the plate: `first` and `second` as they were, everything together. To count
 * one difference alone, give a second state that is the first but for it. Never throws for values of the cameras, the plate or the planes.
 */
export function blurCost(first: CameraState, second: CameraState, plate: Plate, planes: Planes): BlurCost | NoCost {
  const refusals = [...refusalsOf(first), ...refusalsOf(second), ...refusalsOfSetting(plate, planes)];
  if (refusals.length > 0) return { kind: 'refused', refusals };
  const [a, b] = [asFocused(first), asFocused(second)];
  if (a === undefined || b === undefined) {
    return { kind: 'unknown', missing: [...missingOf(first).map((what) => `${what} of the first pass`), ...missingOf(second).map((what) => `${what} of the second pass`)] };
  }
  const distances = [planes.nearM, planes.farM].filter((metres) => metres !== undefined);
  if (distances.length === 0) return { kind: 'unknown', missing: ['subject distance', 'background distance'] };
  const found = attempt(() => distances.map((metres) => onPlane(a, b, metres, plate)));
  if ('refusal' in found) return { kind: 'refused', refusals: [found.refusal] };
  return {
    kind: 'blur',
    planes: found.made,
    worstPx: Math.max(...found.made.map(({ differencePx }) => Math.abs(differencePx))),
    assumptions: [...irisAssumptions(first.iris, second.iris), ...planes.assumptions],
    missing: [...(planes.nearM === undefined ? ['subject distance'] : []), ...(planes.farM === undefined ? ['background distance'] : [])],
  };
}

/** A lens that is set: focal length and exact stop, and its focus on the barrel in m. */
export interface Focused {
  readonly focalLengthMm: number;
  readonly stop: number;
  readonly focusM: number;
}

/** A state as far as sharpness needs it; undefined when focal length, focus or iris is not on record. */
export function asFocused({ focalLengthMm, focusM, iris }: CameraState): Focused | undefined {
  return focalLengthMm === undefined || focusM === undefined || iris === undefined ? undefined : { focalLengthMm, focusM, stop: exactStop(iris.number) };
}

/** What sharpness needs of a state and does not find. */
export function missingOf({ focalLengthMm, focusM, iris }: CameraState): readonly string[] {
  return [focalLengthMm === undefined ? 'focal length' : '', focusM === undefined ? 'focus distance' : '', iris === undefined ? 'stop' : ''].filter((what) => what !== '');
}

/** What has to be said when an iris is not an f-number. */
export function irisAssumptions(...irises: readonly (Iris | undefined)[]): readonly string[] {
  return irises.some((iris) => iris !== undefined && iris.kind !== 'f')
    ? ['the T-number stands in for the f-number, which is 5 to 12 % smaller: blur is understated by as much (common practice, no source)']
    : [];
}

/** Blur disc of a point `distanceM` from the sensor, px of the plate. @throws {ImpossibleValueError} */
export function blurPx(lens: Focused, distanceM: number, plate: Plate): number {
  return blurDiscOnTape(lens, lens.focusM * 1000, distanceM * 1000) / pixelPitch(plate);
}

function onPlane(a: Focused, b: Focused, distanceM: number, plate: Plate): BlurOnPlane {
  const [firstPx, secondPx] = [blurPx(a, distanceM, plate), blurPx(b, distanceM, plate)];
  return { distanceM: distanceM === Number.POSITIVE_INFINITY ? 'infinity' : distanceM, firstPx, secondPx, differencePx: secondPx - firstPx };
}
