import type { Refusal } from '../impossible.ts';
import { ImpossibleValueError, assertAngle, refusalOf } from '../impossible.ts';

/**
 * One mark of a move as a crew notes it; what nobody noted is absent. Seconds from any moment both passes share. Place on the stage in m: x to the right, y ahead,
 * z up; pan to the right, tilt up and roll clockwise are positive.
 */
export interface MovePoint {
  readonly name: string;
  readonly timeS?: number;
  readonly x?: number;
  readonly y?: number;
  readonly z?: number;
  readonly panDeg?: number;
  readonly tiltDeg?: number;
  readonly rollDeg?: number;
  readonly focalLengthMm?: number;
  readonly focusM?: number;
}

/** The numbers of a mark. */
export type PointValue = Exclude<keyof MovePoint, 'name'>;

/** What each number of a mark is called. */
export const POINT_WORDS: Readonly<Record<PointValue, string>> = {
  timeS: 'time', x: 'x', y: 'y', z: 'z', panDeg: 'pan', tiltDeg: 'tilt', rollDeg: 'roll', focalLengthMm: 'focal length', focusM: 'focus distance',
};

const POINT_VALUES = ['timeS', 'x', 'y', 'z', 'panDeg', 'tiltDeg', 'rollDeg', 'focalLengthMm', 'focusM'] as const satisfies readonly PointValue[];

/** A mark without the numbers no camera can have, and those numbers by name. */
export function soundPoint(point: MovePoint): { readonly point: MovePoint; readonly refusals: readonly Refusal[] } {
  const refusals: Refusal[] = [];
  const sound: Partial<Record<PointValue, number>> = {};
  for (const key of POINT_VALUES) {
    const value = point[key];
    if (value === undefined) continue;
    const refusal = refusalOf(() => assertPossible(key, value, `${POINT_WORDS[key]} at mark ${point.name}`));
    if (refusal === undefined) sound[key] = value;
    else refusals.push(refusal);
  }
  return { point: { name: point.name, ...sound }, refusals };
}

/** Two names of a mark are one whatever their case and the spaces about them. */
export function markKey(name: string): string {
  return name.normalize('NFC').trim().replace(/\s+/gu, ' ').toLowerCase();
}

function assertPossible(key: PointValue, value: number, what: string): void {
  const within = (least: number, most: number, expected: string): void => {
    if (!(value >= least && value <= most)) throw new ImpossibleValueError(what, value, expected);
  };
  switch (key) {
    case 'timeS':
      return within(-86_400, 86_400, 'seconds within a day');
    case 'x':
    case 'y':
    case 'z':
      return within(-1e5, 1e5, 'metres within ±100 km');
    case 'focalLengthMm':
      return within(0.1, 1e5, 'a length from 0.1 mm to 100 m');
    case 'focusM':
      return value === Number.POSITIVE_INFINITY ? undefined : within(1e-3, 1e6, 'a distance above 0 m');
    case 'panDeg':
      return assertAngle(what, value);
    case 'tiltDeg':
    case 'rollDeg':
      return assertAngle(what, value, 360);
    default:
      return key satisfies never;
  }
}
