import { assertLength } from './image-scale.ts';

/** Lens and iris for sharpness: `stop` is the f-number (a T-number overstates the depth by T/N, typically 5 to 12 %). */
export interface SharpnessSetting {
  readonly focalLengthMm: number;
  readonly stop: number;
}

/** Limits of what looks sharp, from the lens, mm; `farMm` is Infinity when everything behind is sharp. */
export interface DepthOfField {
  readonly nearMm: number;
  readonly farMm: number;
}

/** The nearest focus at which infinity still looks sharp: f²/(N·c) + f, mm from the lens. `circleMm` is the disc that still counts as a point. */
export function hyperfocal({ focalLengthMm, stop }: SharpnessSetting, circleMm: number): number {
  assertLength('focal length', focalLengthMm);
  assertLength('stop', stop);
  assertLength('circle of confusion', circleMm);
  return (focalLengthMm * focalLengthMm) / (stop * circleMm) + focalLengthMm;
}

/**
 * Limits of sharpness for a focus distance from the lens, by 1/near = 1/s + (1 − f/s)·k and 1/far = 1/s − (1 − f/s)·k with k = N·c/f²: the same as the
 * usual formulas, without their division by H − s, so it stays true past the hyperfocal distance.
 */
export function depthOfField(setting: SharpnessSetting, circleMm: number, focusMm: number): DepthOfField {
  const { focalLengthMm, stop } = setting;
  assertLength('circle of confusion', circleMm);
  if (!(focusMm > focalLengthMm)) throw new RangeError(`focus at ${focusMm} mm lies inside the focal length of ${focalLengthMm} mm`);
  const k = (stop * circleMm) / (focalLengthMm * focalLengthMm);
  const inverse = 1 / focusMm;
  const spread = focusMm === Number.POSITIVE_INFINITY ? k : (1 - focalLengthMm * inverse) * k;
  const far = inverse - spread;
  return { nearMm: 1 / (inverse + spread), farMm: far <= 0 ? Number.POSITIVE_INFINITY : 1 / far };
}

/** Diameter of the blur of a point at `subjectMm` when focused at `focusMm` (both from the lens), mm on the sensor: (f²/N)·|1/s − 1/u|·s/(s − f). */
export function blurDisc({ focalLengthMm, stop }: SharpnessSetting, focusMm: number, subjectMm: number): number {
  assertLength('focal length', focalLengthMm);
  assertLength('stop', stop);
  if (!(focusMm > focalLengthMm) || !(subjectMm > 0)) throw new RangeError(`cannot focus a ${focalLengthMm} mm lens at ${focusMm} mm on a subject at ${subjectMm} mm`);
  const stretch = focusMm === Number.POSITIVE_INFINITY ? 1 : focusMm / (focusMm - focalLengthMm);
  return ((focalLengthMm * focalLengthMm) / stop) * Math.abs(1 / focusMm - 1 / subjectMm) * stretch;
}
