import { assertDensity } from './exposure.ts';
import { conjugates } from './image-scale.ts';
import type { Refusal } from './impossible.ts';
import { ImpossibleValueError, assertAbove0, assertAngle, assertDistance, refusalOf } from './impossible.ts';

/** An iris as read: the number, and whether it is a T or an f (`unknown` when nobody says). */
export interface Iris {
  readonly number: number;
  readonly kind: 'T' | 'f' | 'unknown';
}

/**
 * What is known of a camera at one moment. Absent means unknown. Distances in m; `focusM` from the sensor plane, Infinity allowed. Height above the floor
 * (or any level both passes share), `sideM` level to the right of where the lead looks and `forwardM` level towards it, both from any point the passes share.
 * Pan to the right, tilt up and roll clockwise are positive.
 */
export interface CameraState {
  readonly focalLengthMm?: number;
  readonly focusM?: number;
  readonly iris?: Iris;
  readonly ndDensity?: number;
  readonly shutterDeg?: number;
  readonly sensorFps?: number;
  readonly ei?: number;
  readonly heightM?: number;
  readonly sideM?: number;
  readonly forwardM?: number;
  readonly panDeg?: number;
  readonly tiltDeg?: number;
  readonly rollDeg?: number;
}

/** A camera's tilt sensor writes this when it is out of range; measured on one maker's export, no source. */
const OUT_OF_RANGE_DEG = 409.5;

/** Everything in a state that no camera can have; empty when all of it is possible. */
export function refusalsOf(state: CameraState): readonly Refusal[] {
  const single = [
    check(state.focalLengthMm, assertFocalLength),
    check(state.focusM, (m) => assertDistance('focus distance', m * 1000)),
    check(state.iris?.number, (number) => assertAbove0('stop', number, 512)),
    check(state.ndDensity, assertDensity),
    check(state.shutterDeg, (degrees) => assertAbove0('shutter', degrees, 360)),
    check(state.sensorFps, (fps) => assertAbove0('sensor rate', fps, 1e6)),
    check(state.ei, (ei) => assertAbove0('exposure index', ei)),
    check(state.heightM, (m) => assertOffset('camera height', m)),
    check(state.sideM, (m) => assertOffset('camera position', m)),
    check(state.forwardM, (m) => assertOffset('camera position', m)),
    check(state.panDeg, (degrees) => assertAngle('pan', degrees)),
    check(state.tiltDeg, (degrees) => assertTurn('tilt', degrees)),
    check(state.rollDeg, (degrees) => assertTurn('roll', degrees)),
  ].flat();
  const { focalLengthMm, focusM } = state;
  if (single.length > 0 || focalLengthMm === undefined) return single;
  return check(focusM, (m) => conjugates(focalLengthMm, m * 1000));
}

function check<T>(value: T | undefined, guard: (value: T) => unknown): readonly Refusal[] {
  const refusal = value === undefined ? undefined : refusalOf(() => guard(value));
  return refusal === undefined ? [] : [refusal];
}

function assertFocalLength(mm: number): void {
  if (!(mm >= 0.1 && mm <= 100_000)) throw new ImpossibleValueError('focal length', mm, 'a length from 0.1 mm to 100 m');
}

function assertOffset(what: string, metres: number): void {
  if (!(Math.abs(metres) <= 1e5)) throw new ImpossibleValueError(what, metres, 'a distance within ±100 km');
}

function assertTurn(what: string, degrees: number): void {
  if (Math.abs(degrees) === OUT_OF_RANGE_DEG) throw new ImpossibleValueError(what, degrees, 'an angle (409.5 is how a tilt sensor says "out of range")');
  assertAngle(what, degrees, 360);
}
