import type { CameraState } from '../../../src/core/optics/camera-state.ts';
import type { Planes } from '../../../src/core/optics/planes.ts';
import type { Plate } from '../../../src/core/optics/plate.ts';
import { focalPixels } from '../../../src/core/optics/plate.ts';
import type { CameraPose } from '../../../src/core/optics/projection.ts';

/** A 4096 px plate of a camera as wide as Super 35 film. */
export const PLATE: Plate = { widthPx: 4096, heightPx: 2160, sensor: { widthMm: 24.89, heightMm: (24.89 * 2160) / 4096 }, squeeze: 1 };

/** A performer at 2 m before a wall at 6 m. */
export const ROOM: Planes = { nearM: 2, farM: 6, assumptions: [] };

/** A 35 mm at T2.8, as logged on the day. */
export const LEAD: CameraState = {
  focalLengthMm: 35, focusM: 2, iris: { number: 2.8, kind: 'f' }, ndDensity: 0.6, shutterDeg: 180, sensorFps: 24, ei: 800,
  heightM: 1.42, sideM: 0, forwardM: 0, panDeg: 0, tiltDeg: 0, rollDeg: 0,
};

/** A camera at the origin that looks level along z, with a 35 mm lens unless told otherwise. */
export function poseWith(changes: Partial<CameraPose> = {}, focalLengthMm = 35): CameraPose {
  return { xMm: 0, yMm: 0, zMm: 0, panDeg: 0, tiltDeg: 0, rollDeg: 0, ...focalPixels(PLATE, focalLengthMm), ...changes };
}
