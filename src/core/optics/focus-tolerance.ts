import type { Focused } from './blur-cost.ts';
import { asFocused, blurPx, irisAssumptions, missingOf } from './blur-cost.ts';
import type { CameraState } from './camera-state.ts';
import type { NoCost } from './difference-cost.ts';
import { firstBeyond } from './first-beyond.ts';
import { assertAbove0, attempt } from './impossible.ts';
import type { Planes } from './planes.ts';
import type { Plate } from './plate.ts';

/** Between which distances on the barrel focus may lie before blur discs on the known planes differ by the limit, m from the sensor. */
export interface FocusTolerance {
  readonly kind: 'range';
  readonly of: 'focus';
  readonly nearestM: number;
  readonly farthestM: number | 'infinity';
  readonly limitedBy: 'blur';
  readonly limit: number;
  readonly assumptions: readonly string[];
}

/** Dioptres below which a lens stands at infinity: beyond 100 km. */
const INFINITY_DIOPTRES = 1e-5;

/** Steps of the scan for the first crossing: blur on a far plane first grows, then falls again as focus comes nearer to it. */
const STEPS = 200;

/** The range around the focus of a camera. Searched in dioptres, in which a barrel is evenly spaced and infinity is 0. */
export function focusTolerance(limitPx: number, camera: CameraState, plate: Plate, planes: Planes): FocusTolerance | NoCost {
  const lens = asFocused(camera);
  const distances = [planes.nearM, planes.farM].filter((metres) => metres !== undefined);
  if (lens === undefined || distances.length === 0) {
    return { kind: 'unknown', missing: [...missingOf(camera), ...(distances.length === 0 ? ['subject distance'] : [])] };
  }
  const found = attempt(() => {
    assertAbove0('limit', limitPx);
    const asSet = distances.map((metres) => blurPx(lens, metres, plate));
    const isBeyond = (dioptres: number): boolean => distances.some((metres, index) => Math.abs(blurPx(focusedAt(lens, dioptres), metres, plate) - (asSet[index] ?? 0)) > limitPx);
    const set = 1 / lens.focusM;
    // A hair inside four focal lengths, beyond which no thin lens focuses.
    const closest = 1 / (0.004001 * lens.focalLengthMm);
    return { nearest: firstCrossing(isBeyond, set, closest) ?? closest, farthest: firstCrossing(isBeyond, set, 0) ?? 0 };
  });
  if ('refusal' in found) return { kind: 'refused', refusals: [found.refusal] };
  return {
    kind: 'range',
    of: 'focus',
    nearestM: 1 / found.made.nearest,
    farthestM: found.made.farthest <= INFINITY_DIOPTRES ? 'infinity' : 1 / found.made.farthest,
    limitedBy: 'blur',
    limit: limitPx,
    assumptions: [...irisAssumptions(camera.iris), ...planes.assumptions],
  };
}

function focusedAt(lens: Focused, dioptres: number): Focused {
  return { ...lens, focusM: dioptres <= INFINITY_DIOPTRES ? Number.POSITIVE_INFINITY : 1 / dioptres };
}

/** The first value on the way from one to the other beyond which the limit is passed; undefined when it holds all the way. */
function firstCrossing(isBeyond: (value: number) => boolean, from: number, to: number): number | undefined {
  for (let step = 1; step <= STEPS; step += 1) {
    const [start, end] = [from + ((to - from) * (step - 1)) / STEPS, from + ((to - from) * step) / STEPS];
    if (!isBeyond(end)) continue;
    const share = firstBeyond((part) => isBeyond(start + (end - start) * part), 1);
    return share === undefined ? start : start + (end - start) * share;
  }
  return undefined;
}
