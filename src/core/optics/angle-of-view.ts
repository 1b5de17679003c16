import { conjugates } from './image-scale.ts';
import { assertAbove0, assertLength } from './impossible.ts';

/** The part of the sensor that is recorded, mm. */
export interface SensorArea {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Angles of view in degrees. */
export interface AngleOfView {
  readonly horizontalDeg: number;
  readonly verticalDeg: number;
  readonly diagonalDeg: number;
}

/**
 * Angle of view of a rectilinear lens, focused at `barrelDistanceMm` (infinity unless given): 2·atan(d / 2v). `squeeze` widens the horizontal of
 * an anamorphic lens, whose marked focal length is the vertical one by custom. Not valid for fisheyes.
 */
export function angleOfView(area: SensorArea, focalLengthMm: number, squeeze = 1, barrelDistanceMm = Number.POSITIVE_INFINITY): AngleOfView {
  assertLength('sensor width', area.widthMm);
  assertLength('sensor height', area.heightMm);
  assertAbove0('squeeze', squeeze, 10);
  const { imageMm } = conjugates(focalLengthMm, barrelDistanceMm);
  const angle = (size: number): number => (2 * Math.atan(size / (2 * imageMm)) * 180) / Math.PI;
  const width = area.widthMm * squeeze;
  return { horizontalDeg: angle(width), verticalDeg: angle(area.heightMm), diagonalDeg: angle(Math.hypot(width, area.heightMm)) };
}
