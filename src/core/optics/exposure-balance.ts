import type { CameraState, Iris } from './camera-state.ts';
import { refusalsOf } from './camera-state.ts';
import { exactStop, exposureTime, indexDifference, stopDifference, stopsOfDensity, timeDifference } from './exposure.ts';
import type { Refusal } from './impossible.ts';
import { attempt, unsignedZero } from './impossible.ts';

/** By how many stops the second pass is brighter than the first, and what each setting does to it. Absent parts are not on record for both. */
export interface ExposureBalance {
  readonly kind: 'balance';
  readonly irisStops?: number;
  readonly timeStops?: number;
  readonly ndStops?: number;
  /** Light on the sensor: the sum of the parts above that are known. */
  readonly sensorStops: number;
  /** What developing both as rated adds; in raw and log recordings it can be chosen later. */
  readonly indexStops?: number;
  readonly assumptions: readonly string[];
  readonly missing: readonly string[];
}

/** The balance of two passes; never throws for values of the cameras. */
export function exposureBalance(first: CameraState, second: CameraState): ExposureBalance | { readonly kind: 'refused'; readonly refusals: readonly Refusal[] } {
  const refusals = [...refusalsOf(first), ...refusalsOf(second)];
  if (refusals.length > 0) return { kind: 'refused', refusals };
  // Shutter and rate may each be possible and their exposure time not.
  const found = attempt(() => balanceOf(first, second));
  return 'refusal' in found ? { kind: 'refused', refusals: [found.refusal] } : found.made;
}

function balanceOf(first: CameraState, second: CameraState): ExposureBalance {
  const iris = irisStops(first.iris, second.iris);
  const time = timeStops(first, second);
  const nd = both(first.ndDensity, second.ndDensity, (a, b) => unsignedZero(stopsOfDensity(a) - stopsOfDensity(b)));
  const index = both(first.ei, second.ei, indexDifference);
  return {
    kind: 'balance',
    ...(iris.stops === undefined ? {} : { irisStops: iris.stops }),
    ...(time.stops === undefined ? {} : { timeStops: time.stops }),
    ...(nd === undefined ? {} : { ndStops: nd }),
    sensorStops: unsignedZero((iris.stops ?? 0) + (time.stops ?? 0) + (nd ?? 0)),
    ...(index === undefined ? {} : { indexStops: index }),
    assumptions: [...iris.assumptions, ...time.assumptions],
    missing: [iris.missing, time.missing, nd === undefined ? 'neutral density' : '', index === undefined ? 'EI' : ''].filter((what) => what !== ''),
  };
}

interface Found {
  readonly stops: number | undefined;
  readonly assumptions: readonly string[];
  readonly missing: string;
}

/** T and f differ by what the glass swallows, so one is never held against the other. */
function irisStops(first: Iris | undefined, second: Iris | undefined): Found {
  if (first === undefined || second === undefined) return { stops: undefined, assumptions: [], missing: 'stop' };
  const scales = new Set([first.kind, second.kind]);
  if (scales.has('T') && scales.has('f')) return { stops: undefined, assumptions: [], missing: 'stop on one scale (one pass has T, the other f)' };
  const stops = stopDifference(exactStop(first.number), exactStop(second.number));
  return { stops, assumptions: scales.size > 1 ? ['both stops are taken to be on one scale'] : [], missing: '' };
}

function timeStops(first: CameraState, second: CameraState): Found {
  if (first.shutterDeg === undefined || second.shutterDeg === undefined) return { stops: undefined, assumptions: [], missing: 'shutter' };
  if (first.sensorFps === undefined && second.sensorFps === undefined) {
    return { stops: timeDifference(first.shutterDeg, second.shutterDeg), assumptions: ['sensor rate is not on record: taken to be the same for both'], missing: '' };
  }
  if (first.sensorFps === undefined || second.sensorFps === undefined) return { stops: undefined, assumptions: [], missing: 'sensor rate' };
  const stops = timeDifference(exposureTime(first.shutterDeg, first.sensorFps), exposureTime(second.shutterDeg, second.sensorFps));
  return { stops, assumptions: [], missing: '' };
}

function both(first: number | undefined, second: number | undefined, difference: (a: number, b: number) => number): number | undefined {
  return first === undefined || second === undefined ? undefined : difference(first, second);
}
