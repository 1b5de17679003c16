import { assertAbove0 } from './impossible.ts';

/** What re-framing throws away, 0..1 of the picture's width and of its height. */
export interface ReframingLoss {
  readonly width: number;
  readonly height: number;
}

/** Two focal lengths made alike by a scale: the longer one sees f1/f2 of what the shorter sees, across and down, so 1 − f1/f2 of either is lost. */
export function zoomLoss(oneMm: number, otherMm: number): ReframingLoss {
  assertAbove0('focal length', oneMm);
  assertAbove0('focal length', otherMm);
  const lost = 1 - Math.min(oneMm, otherMm) / Math.max(oneMm, otherMm);
  return { width: lost, height: lost };
}

/**
 * Two tilts made alike by a shift: the strip at one edge that only one of them sees, measured down the middle of the picture. `focalPx` and `heightPx` in px of the
 * plate: (tan a − tan(a − δ)) / (2 tan a), where tan a = height / 2f; all of the height once the tilt is as large as the view.
 */
export function tiltLoss(deltaDeg: number, focalPx: number, heightPx: number): ReframingLoss {
  const half = Math.atan(heightPx / 2 / focalPx);
  const delta = (Math.abs(deltaDeg) * Math.PI) / 180;
  const lost = delta >= 2 * half ? 1 : (Math.tan(half) - Math.tan(half - delta)) / (2 * Math.tan(half));
  return { width: 0, height: lost };
}

/** Two rolls made alike by a turn: what is cut off until an upright picture of the same shape fits into the turned one, 1 − 1 / (cos δ + w/h · sin δ). */
export function rollLoss(deltaDeg: number, widthPx: number, heightPx: number): ReframingLoss {
  const delta = (Math.min(Math.abs(deltaDeg), 90) * Math.PI) / 180;
  const lost = 1 - 1 / (Math.cos(delta) + (Math.max(widthPx, heightPx) / Math.min(widthPx, heightPx)) * Math.sin(delta));
  return { width: lost, height: lost };
}
