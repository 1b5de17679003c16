import { ImpossibleValueError, assertAbove0, assertAngle, assertDistance, assertLength, unsignedZero } from './impossible.ts';
import type { Matrix, Vector } from './matrix.ts';
import { apply, product, transposed } from './matrix.ts';

/** A point or shift in the picture, px from the principal point, x right, y down. */
export interface PicturePoint {
  readonly x: number;
  readonly y: number;
}

/** Where a camera stands, mm: x right, y down, z forward as seen by a camera at zero angles. */
export interface Place {
  readonly xMm: number;
  readonly yMm: number;
  readonly zMm: number;
}

/** Where a camera looks, degrees: pan to the right, tilt up and roll clockwise are positive. The head turns in that order: R = Ry(pan)·Rx(tilt)·Rz(roll). */
export interface Aim {
  readonly panDeg: number;
  readonly tiltDeg: number;
  readonly rollDeg: number;
}

/** Where a camera stands (its entrance pupil) and looks, and how large its picture is. */
export interface CameraPose extends Place, Aim {
  /** Focal length in px of the plate's raster. */
  readonly focalX: number;
  readonly focalY: number;
}

/**
 * Focal length in px: f·W/w across and f·H/h down the recorded raster, where w and h are the recorded part of the sensor in mm. On the squeezed raster of
 * an anamorphic lens the horizontal one is shorter by the squeeze.
 */
export function focalInPixels(focalLengthMm: number, sensorMm: number, pixels: number, squeeze = 1): number {
  assertLength('focal length', focalLengthMm);
  assertLength('sensor size', sensorMm);
  assertAbove0('picture size', pixels, 1e6);
  assertAbove0('squeeze', squeeze, 10);
  return (focalLengthMm * pixels) / (sensorMm * squeeze);
}

/**
 * How far a point moves between two cameras: the first sees it at `at` on a plane `depthMm` ahead of it (Infinity is allowed), the second sees it elsewhere.
 * Full projection, no sum of small angles. Undefined when the point lies behind the second camera.
 */
export function displacement(first: CameraPose, second: CameraPose, at: PicturePoint, depthMm: number): PicturePoint | undefined {
  return displacementBetween(preparePair(first, second), at, depthMm);
}

/** Two cameras made ready for many points: from the first's frame to the second's, worked out once. */
export interface CameraPair {
  readonly first: FocalPixels;
  readonly second: FocalPixels;
  readonly turn: Matrix;
  readonly shift: Vector;
}

/** Focal length in px of the plate's raster, across and down. */
export interface FocalPixels {
  readonly focalX: number;
  readonly focalY: number;
}

/** Prepares two cameras for `displacementBetween`. @throws {ImpossibleValueError} for a pose no camera can have. */
export function preparePair(first: CameraPose, second: CameraPose): CameraPair {
  assertPose(first);
  assertPose(second);
  const back = transposed(orientation(second));
  return {
    first,
    second,
    turn: product(back, orientation(first)),
    shift: apply(back, [first.xMm - second.xMm, first.yMm - second.yMm, first.zMm - second.zMm]),
  };
}

/** As `displacement`, for a prepared pair. @throws {ImpossibleValueError} for a distance or a point that cannot be. */
export function displacementBetween(pair: CameraPair, at: PicturePoint, depthMm: number): PicturePoint | undefined {
  assertDistance('distance of the plane', depthMm);
  if (!Number.isFinite(at.x + at.y)) throw new ImpossibleValueError('point in the picture', at.x + at.y, 'two finite numbers');
  return shiftSeen(pair, at, 1 / depthMm);
}

/** The shift of a point on the plane at 1/`nearness` mm (0 is infinity), without guards: for millions of points of a checked pair. */
export function shiftSeen({ first, second, turn, shift }: CameraPair, at: PicturePoint, nearness: number): PicturePoint | undefined {
  // Divided by the depth throughout, so that a plane at infinity is a plane like any other.
  const [rayX, rayY] = [at.x / first.focalX, at.y / first.focalY];
  const ahead = turn[6] * rayX + turn[7] * rayY + turn[8] + shift[2] * nearness;
  if (!(ahead > 1e-9)) return undefined;
  return {
    x: unsignedZero((second.focalX * (turn[0] * rayX + turn[1] * rayY + turn[2] + shift[0] * nearness)) / ahead - at.x),
    y: unsignedZero((second.focalY * (turn[3] * rayX + turn[4] * rayY + turn[5] + shift[1] * nearness)) / ahead - at.y),
  };
}

/** As `displacementBetween`, with the distance in m. @throws {ImpossibleValueError} when the point lies behind the second camera. */
export function displacementOrRefusal(pair: CameraPair, at: PicturePoint, distanceM: number): PicturePoint {
  const shift = displacementBetween(pair, at, distanceM * 1000);
  if (shift === undefined) throw new ImpossibleValueError('distance', distanceM, 'that of a plane before both cameras, m');
  return shift;
}

/** The orientation matrix of an aim, row by row. */
export function orientation({ panDeg, tiltDeg, rollDeg }: Aim): Matrix {
  const [cp, sp] = cosSin(panDeg);
  const [ct, st] = cosSin(tiltDeg);
  const [cr, sr] = cosSin(rollDeg);
  const pan: Matrix = [cp, 0, sp, 0, 1, 0, -sp, 0, cp];
  const tilt: Matrix = [1, 0, 0, 0, ct, -st, 0, st, ct];
  const roll: Matrix = [cr, -sr, 0, sr, cr, 0, 0, 0, 1];
  return product(product(pan, tilt), roll);
}

/** The aim of an orientation matrix; at a tilt of ±90° the roll is counted as 0, since pan and roll are then one. */
export function aimOf(m: Matrix): Aim {
  const degrees = (angle: number): number => unsignedZero((angle * 180) / Math.PI);
  const tilt = Math.asin(Math.max(-1, Math.min(1, -m[5])));
  if (Math.abs(m[5]) > 1 - 1e-12) return { panDeg: degrees(Math.atan2(-m[6], m[0])), tiltDeg: degrees(tilt), rollDeg: 0 };
  return { panDeg: degrees(Math.atan2(m[2], m[8])), tiltDeg: degrees(tilt), rollDeg: degrees(Math.atan2(m[3], m[4])) };
}

function assertPose({ xMm, yMm, zMm, panDeg, tiltDeg, rollDeg, focalX, focalY }: CameraPose): void {
  for (const offset of [xMm, yMm, zMm]) if (!(Math.abs(offset) <= 1e9)) throw new ImpossibleValueError('camera position', offset, 'within ±1000 km');
  assertAngle('pan', panDeg);
  assertAngle('tilt', tiltDeg);
  assertAngle('roll', rollDeg);
  assertAbove0('focal length in px', focalX);
  assertAbove0('focal length in px', focalY);
}

function cosSin(degrees: number): readonly [number, number] {
  const angle = (degrees * Math.PI) / 180;
  return [Math.cos(angle), Math.sin(angle)];
}
