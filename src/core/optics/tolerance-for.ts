import type { CameraState } from './camera-state.ts';
import { refusalsOf } from './camera-state.ts';
import type { DifferenceCost, NoCost } from './difference-cost.ts';
import { differenceCost, refusalsOfSetting } from './difference-cost.ts';
import { firstBeyond } from './first-beyond.ts';
import type { FocusTolerance } from './focus-tolerance.ts';
import { focusTolerance } from './focus-tolerance.ts';
import { assertAbove0, refusalOf } from './impossible.ts';
import type { Limits } from './limits.ts';
import type { Part } from './parts.ts';
import { valueOf, withValue } from './parts.ts';
import type { Planes } from './planes.ts';
import type { Plate } from './plate.ts';

/** A part or a setting of the exposure that a crew sets again. */
export type ToleranceOf = Part | 'iris' | 'shutter' | 'nd' | 'ei';

/** How far a setting may be out, either way, before a limit is reached. `amount` is above 0, in `unit`. */
export interface PlusMinus {
  readonly kind: 'plus-minus';
  readonly of: ToleranceOf;
  readonly amount: number;
  readonly unit: 'mm' | '°' | 'stops' | 'density' | 'EI';
  readonly limitedBy: 'shift' | 'parallax' | 'exposure';
  /** The limit it keeps, in px or stops. */
  readonly limit: number;
  readonly assumptions: readonly string[];
}

/** No amount a crew could be out by reaches the limit. */
export interface FreeTolerance {
  readonly kind: 'free';
  readonly of: ToleranceOf;
  readonly why: string;
}

export type Tolerance = PlusMinus | FocusTolerance | FreeTolerance | NoCost;

interface Search {
  readonly unit: 'mm' | '°';
  /** One unit of a tolerance in the unit of `CameraState`. */
  readonly scale: number;
  /** How far the search goes. */
  readonly most: number;
  /** What turns or scales the picture can be undone and is held to the shift; what moves the camera cannot. */
  readonly by: 'shift' | 'parallax';
}

const MOVED: Search = { unit: 'mm', scale: 0.001, most: 10_000, by: 'parallax' };
const SEARCHES: Readonly<Record<Exclude<Part, 'focus'>, Search>> = {
  focalLength: { unit: 'mm', scale: 1, most: 1000, by: 'shift' },
  pan: { unit: '°', scale: 1, most: 30, by: 'shift' },
  tilt: { unit: '°', scale: 1, most: 30, by: 'shift' },
  roll: { unit: '°', scale: 1, most: 90, by: 'shift' },
  height: MOVED,
  side: MOVED,
  forward: MOVED,
};

/**
 * How far a setting may be out before the join shows: the cost of `differenceCost`, `blurCost` and `exposureBalance` solved backwards, each setting alone.
 * Where the background's distance is not on record it is taken at infinity, which gives the tightest tolerance. Never throws for values of the camera.
 */
export function toleranceFor(of: ToleranceOf, limits: Limits, camera: CameraState, plate: Plate, planes: Planes): Tolerance {
  const refusals = [...refusalsOf(camera), ...refusalsOfSetting(plate, planes)];
  if (refusals.length > 0) return { kind: 'refused', refusals };
  switch (of) {
    case 'focus':
      return focusTolerance(limits.blurPx, camera, plate, planes);
    case 'iris':
      return exposureTolerance(of, limits.stops, camera.iris?.number, 'stop', () => [limits.stops, 'stops']);
    case 'shutter':
      return exposureTolerance(of, limits.stops, camera.shutterDeg, 'shutter', (degrees) => [degrees * less(limits.stops), '°']);
    case 'ei':
      return exposureTolerance(of, limits.stops, camera.ei, 'EI', (ei) => [ei * less(limits.stops), 'EI']);
    case 'nd':
      return exposureTolerance(of, limits.stops, camera.ndDensity, 'neutral density', () => [limits.stops * Math.log10(2), 'density']);
    default:
      return partTolerance(of, limits, camera, plate, planes);
  }
}

/** Every tolerance of one camera, in the order a crew sets it up again. */
export function toleranceBox(limits: Limits, camera: CameraState, plate: Plate, planes: Planes): readonly { readonly of: ToleranceOf; readonly tolerance: Tolerance }[] {
  const all = ['focalLength', 'focus', 'iris', 'nd', 'shutter', 'ei', 'height', 'side', 'forward', 'pan', 'tilt', 'roll'] as const satisfies readonly ToleranceOf[];
  return all.map((of) => ({ of, tolerance: toleranceFor(of, limits, camera, plate, planes) }));
}

function partTolerance(of: Exclude<Part, 'focus'>, limits: Limits, camera: CameraState, plate: Plate, planes: Planes): Tolerance {
  const { unit, scale, most, by } = SEARCHES[of];
  const limit = by === 'shift' ? limits.shiftPx : limits.parallaxPx;
  const refusal = refusalOf(() => assertAbove0('limit', limit));
  if (refusal !== undefined) return { kind: 'refused', refusals: [refusal] };
  if (of === 'focalLength' && camera.focalLengthMm === undefined) return { kind: 'unknown', missing: ['focal length'] };
  if (by === 'parallax' && planes.nearM === undefined) return { kind: 'unknown', missing: ['subject distance'] };
  // Only the difference matters, so a height or a pan nobody noted may stand at 0.
  const base = valueOf(of, camera) ?? 0;
  const costOf = (amount: number) => differenceCost(withValue(of, camera, base), withValue(of, camera, base + amount * scale), plate, planes, [of]);
  const level = costOf(0);
  if (level.kind !== 'cost') return level;
  const isBeyond = (amount: number): boolean => {
    const cost = costOf(amount);
    return cost.kind !== 'cost' || pxOf(cost, by) > limit;
  };
  const amounts = [firstBeyond(isBeyond, most), firstBeyond((amount) => isBeyond(-amount), most)].filter((amount) => amount !== undefined);
  if (amounts.length === 0) return { kind: 'free', of, why: by === 'parallax' ? 'near and far lie on one plane, so nothing shifts against anything' : 'no amount reaches the limit' };
  const assumptions = by === 'shift' ? level.assumptions : [...level.assumptions, ...planes.assumptions, ...farAssumption(planes)];
  return { kind: 'plus-minus', of, amount: Math.min(...amounts), unit, limitedBy: by, limit, assumptions };
}

function pxOf({ filmed, parallax }: DifferenceCost, by: Search['by']): number {
  if (by === 'shift') return filmed.worstPx;
  return parallax.kind === 'by-distance' ? parallax.pxMetres : parallax.px;
}

function farAssumption({ farM }: Planes): readonly string[] {
  return farM === undefined ? ['background distance is not on record: it is taken at infinity, which makes this the tightest it can be'] : [];
}

function exposureTolerance(of: ToleranceOf, limit: number, value: number | undefined, what: string, amountOf: (value: number) => readonly [number, PlusMinus['unit']]): Tolerance {
  if (value === undefined) return { kind: 'unknown', missing: [what] };
  const refusal = refusalOf(() => assertAbove0('limit', limit, 20));
  if (refusal !== undefined) return { kind: 'refused', refusals: [refusal] };
  const [amount, unit] = amountOf(value);
  return { kind: 'plus-minus', of, amount, unit, limitedBy: 'exposure', limit, assumptions: [] };
}

/** The part of a value that may be missing before it is `stops` less: the tighter side of the two. */
function less(stops: number): number {
  return 1 - 2 ** -stops;
}
