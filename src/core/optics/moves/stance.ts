import { apply, transposed } from '../matrix.ts';
import { aimOf } from '../projection.ts';
import { unsignedZero } from '../impossible.ts';
import type { Posed } from './posed-move.ts';
import { matrixOf } from './quaternion.ts';

/** How a second camera stands beside a first, in the first's own directions: to its right, above it, ahead of it, mm; turned right, up, clockwise, degrees. */
export interface StanceDifference {
  readonly frame: number;
  readonly sideMm: number;
  readonly aboveMm: number;
  readonly aheadMm: number;
  readonly panDeg: number;
  readonly tiltDeg: number;
  readonly rollDeg: number;
  /** Of the second's focal length over the first's, less 1, percent. */
  readonly zoomPercent: number;
}

/** The difference of two poses. Angles are those of the heads, taken the short way round. */
export function stanceDifference(first: Posed, second: Posed): StanceDifference {
  const [x, y, z] = apply(transposed(matrixOf(first)), [second.xMm - first.xMm, second.yMm - first.yMm, second.zMm - first.zMm]);
  const [a, b] = [aimOf(matrixOf(first)), aimOf(matrixOf(second))];
  return {
    frame: first.frame,
    sideMm: unsignedZero(x),
    aboveMm: unsignedZero(-y),
    aheadMm: unsignedZero(z),
    panDeg: shortWay(b.panDeg - a.panDeg),
    tiltDeg: unsignedZero(b.tiltDeg - a.tiltDeg),
    rollDeg: shortWay(b.rollDeg - a.rollDeg),
    zoomPercent: unsignedZero((second.focalX / first.focalX - 1) * 100),
  };
}

/** An angle within ±180°. */
export function shortWay(degrees: number): number {
  return unsignedZero(degrees - 360 * Math.round(degrees / 360));
}
