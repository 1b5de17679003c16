import type { AngleOfView } from './angle-of-view.ts';
import { angleOfView } from './angle-of-view.ts';
import { irisAssumptions } from './blur-cost.ts';
import type { CameraState } from './camera-state.ts';
import { refusalsOf } from './camera-state.ts';
import { depthOfFieldOnBarrel, hyperfocalOnBarrel } from './depth-of-field.ts';
import { exactStop } from './exposure.ts';
import { conjugates } from './image-scale.ts';
import type { Refusal } from './impossible.ts';
import { assertLength, attempt, refusalOf } from './impossible.ts';
import type { Plate } from './plate.ts';
import { assertPlate } from './plate.ts';

/** The disc that still counts as a point on 35 mm film, mm: a thousandth of an inch. Common practice, no source. */
export const CUSTOMARY_CIRCLE_MM = 0.025;

/** How much of the world stands in the picture where the lens is focused, m. */
export interface FieldSize {
  readonly widthM: number;
  readonly heightM: number;
}

/** What a lens sees and where it is sharp. Distances in m from the sensor plane, as barrel and tape count. What needs a value nobody stated is absent. */
export interface LensFigures {
  /** Focused at infinity, as tables of lenses have it. */
  readonly angles?: AngleOfView;
  /** Focused where the lens was; absent when that is infinity. */
  readonly anglesFocused?: AngleOfView;
  readonly field?: FieldSize;
  readonly sharp?: SharpRange;
  readonly hyperfocalM?: number;
  readonly assumptions: readonly string[];
  readonly missing: readonly string[];
  readonly refusals: readonly Refusal[];
}

/** Depth of field, m from the sensor plane. */
export interface SharpRange {
  readonly nearM: number;
  readonly farM: number | 'infinity';
}

/** Everything about one lens that needs no second pass. `plate` may be absent: depth of field needs none. Never throws for values of the camera or the plate. */
export function lensFigures(camera: CameraState, plate: Plate | undefined, circleMm: number): LensFigures {
  const { focalLengthMm, focusM, iris } = camera;
  const refusals = [...refusalsOf(camera), ...refused(() => assertLength('circle of confusion', circleMm)), ...(plate === undefined ? [] : refused(() => assertPlate(plate)))];
  const missing = [...(focalLengthMm === undefined ? ['focal length'] : []), ...(focusM === undefined ? ['focus distance'] : []), ...(iris === undefined ? ['stop'] : [])];
  if (refusals.length > 0 || focalLengthMm === undefined) return { assumptions: [], missing, refusals };
  const sharpness = iris === undefined ? undefined : { focalLengthMm, stop: exactStop(iris.number) };
  const found = attempt(() => ({
    ...(plate === undefined ? {} : anglesOf(plate, focalLengthMm, focusM)),
    ...(sharpness === undefined || focusM === undefined ? {} : { sharp: sharpRange(sharpness, circleMm, focusM) }),
    ...(sharpness === undefined ? {} : { hyperfocalM: hyperfocalOnBarrel(sharpness, circleMm) / 1000 }),
  }));
  return 'refusal' in found ? { assumptions: [], missing, refusals: [found.refusal] } : { ...found.made, assumptions: irisAssumptions(iris), missing, refusals: [] };
}

function anglesOf({ sensor, squeeze }: Plate, focalLengthMm: number, focusM: number | undefined): Pick<LensFigures, 'angles' | 'anglesFocused' | 'field'> {
  const angles = angleOfView(sensor, focalLengthMm, squeeze);
  if (focusM === undefined || focusM === Number.POSITIVE_INFINITY) return { angles };
  const { magnification } = conjugates(focalLengthMm, focusM * 1000);
  const metres = (sizeMm: number): number => sizeMm / magnification / 1000;
  return {
    angles,
    anglesFocused: angleOfView(sensor, focalLengthMm, squeeze, focusM * 1000),
    field: { widthM: metres(sensor.widthMm * squeeze), heightM: metres(sensor.heightMm) },
  };
}

function sharpRange(setting: { readonly focalLengthMm: number; readonly stop: number }, circleMm: number, focusM: number): SharpRange {
  const { nearMm, farMm } = depthOfFieldOnBarrel(setting, circleMm, focusM * 1000);
  return { nearM: nearMm / 1000, farM: farMm === 'infinity' ? farMm : farMm / 1000 };
}

function refused(guard: () => unknown): readonly Refusal[] {
  const refusal = refusalOf(guard);
  return refusal === undefined ? [] : [refusal];
}
