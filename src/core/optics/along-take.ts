import type { FrameRange } from '../timecode/range.ts';
import { blurCost } from './blur-cost.ts';
import type { CameraState } from './camera-state.ts';
import { differenceCost } from './difference-cost.ts';
import { exposureBalance } from './exposure-balance.ts';
import type { Part } from './parts.ts';
import { valueOf, withValue } from './parts.ts';
import type { Planes } from './planes.ts';
import type { Plate } from './plate.ts';

/** A value of the lens or the head that may change along a take; focus is counted as blur, the iris in stops. */
export type ChangingPart = Extract<Part, 'focalLength' | 'focus' | 'pan' | 'tilt' | 'roll'> | 'iris';

/** What both passes were at one frame of the first, and how far apart that is, 0 or more. */
export interface CurvePoint {
  readonly frame: number;
  readonly first: number;
  readonly second: number;
  readonly amount: number;
}

/** The course of one value in both passes. Frames in which it, or what its cost rests on, is not on record are left out. */
export interface Curve {
  readonly of: ChangingPart;
  readonly unit: 'px' | 'stops';
  readonly points: readonly CurvePoint[];
  /** The largest of them; of equals the first. Absent when there is none. */
  readonly worst?: CurvePoint;
}

/** The cameras of both passes at a frame of the first, already laid over each other by the sync. */
export interface StatesAlong {
  readonly first: (frame: number) => CameraState;
  readonly second: (frame: number) => CameraState;
}

/** One value followed along a take, and what its difference costs at each frame were it the only one. */
export function curveOf(of: ChangingPart, states: StatesAlong, frames: FrameRange, plate: Plate, planes: Planes): Curve {
  const points: CurvePoint[] = [];
  let worst: CurvePoint | undefined;
  for (let frame = frames.start; frame < frames.end; frame += 1) {
    const point = pointAt(of, frame, states, plate, planes);
    if (point === undefined) continue;
    points.push(point);
    if (worst === undefined || point.amount > worst.amount) worst = point;
  }
  return { of, unit: of === 'iris' ? 'stops' : 'px', points, ...(worst === undefined ? {} : { worst }) };
}

function pointAt(of: ChangingPart, frame: number, states: StatesAlong, plate: Plate, planes: Planes): CurvePoint | undefined {
  const state = states.first(frame);
  const [first, second] = [numberOf(of, state), numberOf(of, states.second(frame))];
  if (first === undefined || second === undefined || Number.isNaN(first) || Number.isNaN(second)) return undefined;
  // Most frames of most takes: nothing to work out.
  const amount = first === second ? 0 : costOf(of, state, second, plate, planes);
  return amount === undefined ? undefined : { frame, first, second, amount };
}

function numberOf(of: ChangingPart, state: CameraState): number | undefined {
  return of === 'iris' ? state.iris?.number : valueOf(of, state);
}

function costOf(of: ChangingPart, state: CameraState, second: number, plate: Plate, planes: Planes): number | undefined {
  if (of === 'iris') {
    const balance = exposureBalance({ iris: { number: state.iris?.number ?? 0, kind: 'unknown' } }, { iris: { number: second, kind: 'unknown' } });
    return balance.kind === 'balance' ? Math.abs(balance.sensorStops) : undefined;
  }
  const changed = withValue(of, state, second);
  if (of === 'focus') {
    const blur = blurCost(state, changed, plate, planes);
    return blur.kind === 'blur' ? blur.worstPx : undefined;
  }
  const cost = differenceCost(state, changed, plate, planes, [of]);
  return cost.kind === 'cost' ? cost.filmed.worstPx : undefined;
}
