import { assertBeyondFocus, barrelFromLens, conjugates } from './image-scale.ts';
import { assertAbove0, assertLength } from './impossible.ts';

/** Lens and iris for sharpness: `stop` is the f-number (a T-number overstates the depth by T/N, typically 5 to 12 %; common practice, no source). */
export interface SharpnessSetting {
  readonly focalLengthMm: number;
  readonly stop: number;
}

/** Limits of what looks sharp, mm; `farMm` is the word when everything behind is sharp. */
export interface DepthOfField {
  readonly nearMm: number;
  readonly farMm: number | 'infinity';
}

/** The nearest focus at which infinity still looks sharp: f²/(N·c) + f, mm from the lens. `circleMm` is the disc that still counts as a point. */
export function hyperfocal({ focalLengthMm, stop }: SharpnessSetting, circleMm: number): number {
  assertLength('focal length', focalLengthMm);
  assertAbove0('stop', stop, 512);
  assertLength('circle of confusion', circleMm);
  return (focalLengthMm * focalLengthMm) / (stop * circleMm) + focalLengthMm;
}

/**
 * Limits of sharpness for a focus distance from the lens, by 1/near = 1/s + (1 − f/s)·k and 1/far = 1/s − (1 − f/s)·k with k = N·c/f²: the same as the
 * usual formulas, without their division by H − s, so it stays true past the hyperfocal distance. Not for close-ups (magnification above 0.1).
 */
export function depthOfField({ focalLengthMm, stop }: SharpnessSetting, circleMm: number, focusMm: number): DepthOfField {
  assertBeyondFocus(focalLengthMm, focusMm);
  assertAbove0('stop', stop, 512);
  assertLength('circle of confusion', circleMm);
  const k = (stop * circleMm) / (focalLengthMm * focalLengthMm);
  const inverse = 1 / focusMm;
  const spread = (1 - focalLengthMm * inverse) * k;
  const far = inverse - spread;
  return { nearMm: 1 / (inverse + spread), farMm: far <= 0 ? 'infinity' : 1 / far };
}

/**
 * The same as distances on the barrel, from the sensor plane. A near limit so close that the lens could not focus there is given
 * from the lens plus the picture's distance behind it, which is where a tape would find it.
 */
export function depthOfFieldOnBarrel(setting: SharpnessSetting, circleMm: number, barrelDistanceMm: number): DepthOfField {
  const { subjectMm, imageMm } = conjugates(setting.focalLengthMm, barrelDistanceMm);
  const { nearMm, farMm } = depthOfField(setting, circleMm, subjectMm);
  return { nearMm: nearMm + imageMm, farMm: farMm === 'infinity' ? farMm : farMm + imageMm };
}

/** Diameter of the blur of a point at `subjectMm` when focused at `focusMm` (both from the lens), mm on the sensor: (f²/N)·|1/s − 1/u|·s/(s − f). */
export function blurDisc({ focalLengthMm, stop }: SharpnessSetting, focusMm: number, subjectMm: number): number {
  assertBeyondFocus(focalLengthMm, focusMm);
  assertBeyondFocus(focalLengthMm, subjectMm);
  assertAbove0('stop', stop, 512);
  const stretch = focusMm === Number.POSITIVE_INFINITY ? 1 : focusMm / (focusMm - focalLengthMm);
  return ((focalLengthMm * focalLengthMm) / stop) * Math.abs(1 / focusMm - 1 / subjectMm) * stretch;
}

/**
 * The same with distances from the sensor plane, as barrel and tape give them.
 * @throws {ImpossibleValueError} when the subject lies inside the lens.
 */
export function blurDiscOnTape(setting: SharpnessSetting, barrelDistanceMm: number, subjectFromSensorMm: number): number {
  const { subjectMm, imageMm } = conjugates(setting.focalLengthMm, barrelDistanceMm);
  return blurDisc(setting, subjectMm, subjectFromSensorMm - imageMm);
}

/** Hyperfocal distance as it stands on the barrel, from the sensor plane. */
export function hyperfocalOnBarrel(setting: SharpnessSetting, circleMm: number): number {
  return barrelFromLens(setting.focalLengthMm, hyperfocal(setting, circleMm));
}
