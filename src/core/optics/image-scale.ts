import { ImpossibleValueError, assertDistance, assertLength } from './impossible.ts';

/**
 * Thin-lens image formation. Lengths in mm throughout this folder unless a name says otherwise; pixels are those of the plate.
 * A focus distance on the barrel is measured from the sensor plane, the conjugate formulas from the lens: `conjugates` turns one
 * into the other (the gap between the principal planes, a few cm in some zooms, is neglected).
 */

/** Where the picture forms: subject distance from the lens, image distance behind it, and magnification (image over subject size). */
export interface Conjugates {
  /** Infinity for focus at infinity. */
  readonly subjectMm: number;
  readonly imageMm: number;
  readonly magnification: number;
}

/**
 * The conjugates of a barrel distance `D` (from the sensor plane): u + v = D and u·v = f·D, so u = (D + √(D(D − 4f)))/2 and v = f·D/u, a form
 * without cancellation. Infinity gives the picture at the focal length.
 * @throws {ImpossibleValueError} when the distance is shorter than four focal lengths: no thin lens focuses there.
 */
export function conjugates(focalLengthMm: number, barrelDistanceMm: number): Conjugates {
  assertLength('focal length', focalLengthMm);
  if (barrelDistanceMm === Number.POSITIVE_INFINITY) return { subjectMm: barrelDistanceMm, imageMm: focalLengthMm, magnification: 0 };
  assertLength('focus distance', barrelDistanceMm);
  if (barrelDistanceMm < 4 * focalLengthMm) {
    throw new ImpossibleValueError('focus distance', barrelDistanceMm, `at least four focal lengths from the sensor (${4 * focalLengthMm} mm for a ${focalLengthMm} mm lens)`);
  }
  const subjectMm = (barrelDistanceMm + Math.sqrt(barrelDistanceMm * (barrelDistanceMm - 4 * focalLengthMm))) / 2;
  const imageMm = (focalLengthMm * barrelDistanceMm) / subjectMm;
  return { subjectMm, imageMm, magnification: imageMm / subjectMm };
}

/** Subject distance from the lens for a distance written on the barrel (from the sensor plane). */
export function subjectFromLens(focalLengthMm: number, barrelDistanceMm: number): number {
  return conjugates(focalLengthMm, barrelDistanceMm).subjectMm;
}

/** The barrel distance (from the sensor plane) of a subject distance from the lens: u + v with 1/f = 1/u + 1/v. Infinity stays infinity. */
export function barrelFromLens(focalLengthMm: number, subjectMm: number): number {
  assertBeyondFocus(focalLengthMm, subjectMm);
  return subjectMm === Number.POSITIVE_INFINITY ? subjectMm : subjectMm + (focalLengthMm * subjectMm) / (subjectMm - focalLengthMm);
}

/** How tall a thing stands in the picture, px: size · magnification / pitch, with the lens focused on it. Distances from the sensor plane. */
export function imageSize(sizeMm: number, focalLengthMm: number, barrelDistanceMm: number, pitchMm: number): number {
  assertLength('size', sizeMm);
  assertLength('pixel pitch', pitchMm);
  return (sizeMm * conjugates(focalLengthMm, barrelDistanceMm).magnification) / pitchMm;
}

/**
 * How much larger the picture becomes when focus goes from the first distance to the second (both from the lens): s − 1 = f(u1 − u2)/(u1(u2 − f)).
 * A thin lens that moves as a whole; real lenses may breathe less, more or the other way, so this is an estimate whose sign is not known.
 */
export function breathing(focalLengthMm: number, subjectMm1: number, subjectMm2: number): number {
  assertBeyondFocus(focalLengthMm, subjectMm1);
  assertBeyondFocus(focalLengthMm, subjectMm2);
  if (subjectMm1 === subjectMm2) return 0;
  if (subjectMm1 === Number.POSITIVE_INFINITY) return focalLengthMm / (subjectMm2 - focalLengthMm);
  if (subjectMm2 === Number.POSITIVE_INFINITY) return -focalLengthMm / subjectMm1;
  return (focalLengthMm * (subjectMm1 - subjectMm2)) / (subjectMm1 * (subjectMm2 - focalLengthMm));
}

/** Guards a distance from the lens that must form a picture. @throws {ImpossibleValueError} when it lies inside the focal length. */
export function assertBeyondFocus(focalLengthMm: number, subjectMm: number): void {
  assertLength('focal length', focalLengthMm);
  assertDistance('distance from the lens', subjectMm);
  if (subjectMm <= focalLengthMm) throw new ImpossibleValueError('distance from the lens', subjectMm, `beyond the focal length of ${focalLengthMm} mm`);
}
