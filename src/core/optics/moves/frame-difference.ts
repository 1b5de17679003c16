import { apply, product, transposed } from '../matrix.ts';
import type { CameraPair, PicturePoint } from '../projection.ts';
import { shiftSeen } from '../projection.ts';
import type { Posed } from './posed-move.ts';
import { matrixOf } from './quaternion.ts';

/** How far one frame of two moves lies apart over the points of the picture, px: the largest shift, and the sum of squares that root mean squares are made of. */
export interface FrameDifference {
  /** Of the first move. */
  readonly frame: number;
  readonly nearPx: number;
  readonly nearSquares: number;
  readonly farPx: number;
  readonly farSquares: number;
  /** Near against far: what no 2-D warp undoes. */
  readonly parallaxPx: number;
  readonly parallaxSquares: number;
  /** What the best shift, scale and turn of this frame leaves on the far plane. */
  readonly keystoneSquares: number;
}

/** Two planes as 1/distance, per mm; 0 is infinity. */
export interface Nearness {
  readonly near: number;
  readonly far: number;
}

/**
 * The difference of one frame; undefined when a plane lies behind the second camera there. The same projection as `shiftSeen`, written out without an object a
 * point, since a long move has a million points; `points` must lie symmetrically about the middle.
 */
export function frameDifference(first: Posed, second: Posed, points: readonly PicturePoint[], { near, far }: Nearness): FrameDifference | undefined {
  const { turn, shift } = pairOf(first, second);
  const { focalX, focalY } = second;
  let nearMost = 0, nearSquares = 0, farMost = 0, farSquares = 0, apartMost = 0, apartSquares = 0;
  let sumX = 0, sumY = 0, along = 0, across = 0, spread = 0;
  for (const { x, y } of points) {
    const rayX = x / first.focalX;
    const rayY = y / first.focalY;
    const right = turn[0] * rayX + turn[1] * rayY + turn[2];
    const down = turn[3] * rayX + turn[4] * rayY + turn[5];
    const ahead = turn[6] * rayX + turn[7] * rayY + turn[8];
    const nearAhead = ahead + shift[2] * near;
    const farAhead = ahead + shift[2] * far;
    if (!(nearAhead > 1e-9 && farAhead > 1e-9)) return undefined;
    const nearX = (focalX * (right + shift[0] * near)) / nearAhead - x;
    const nearY = (focalY * (down + shift[1] * near)) / nearAhead - y;
    const farX = (focalX * (right + shift[0] * far)) / farAhead - x;
    const farY = (focalY * (down + shift[1] * far)) / farAhead - y;
    const nearSquare = nearX * nearX + nearY * nearY;
    const farSquare = farX * farX + farY * farY;
    const apartSquare = (nearX - farX) * (nearX - farX) + (nearY - farY) * (nearY - farY);
    nearSquares += nearSquare;
    farSquares += farSquare;
    apartSquares += apartSquare;
    if (nearSquare > nearMost) nearMost = nearSquare;
    if (farSquare > farMost) farMost = farSquare;
    if (apartSquare > apartMost) apartMost = apartSquare;
    sumX += farX;
    sumY += farY;
    along += x * farX + y * farY;
    across += x * farY - y * farX;
    spread += x * x + y * y;
  }
  // Shift, scale and turn are at right angles to each other over symmetric points, so each takes its own share of the squares away.
  const taken = (sumX * sumX + sumY * sumY) / points.length + (along * along + across * across) / spread;
  return {
    frame: first.frame,
    nearPx: Math.sqrt(nearMost), nearSquares,
    farPx: Math.sqrt(farMost), farSquares,
    parallaxPx: Math.sqrt(apartMost), parallaxSquares: apartSquares,
    keystoneSquares: Math.max(0, farSquares - taken),
  };
}

/** Where the middle of the first picture, on a plane, lies in the second; px. */
export function centreShift(first: Posed, second: Posed, nearness: number): PicturePoint | undefined {
  return shiftSeen(pairOf(first, second), MIDDLE, nearness);
}

const MIDDLE: PicturePoint = { x: 0, y: 0 };

function pairOf(first: Posed, second: Posed): CameraPair {
  const back = transposed(matrixOf(second));
  return { first, second, turn: product(back, matrixOf(first)), shift: apply(back, [first.xMm - second.xMm, first.yMm - second.yMm, first.zMm - second.zMm]) };
}
