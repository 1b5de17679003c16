/**
 * Thin-lens image formation. Lengths in mm throughout this folder unless a name says otherwise; pixels are recorded pixels.
 * A focus distance on the barrel is measured from the sensor plane, the conjugate formulas from the lens: `subjectFromLens`
 * turns one into the other (the gap between the principal planes is neglected).
 */

/** Where the picture forms: subject distance from the lens, image distance behind it, and magnification (image over subject size). */
export interface Conjugates {
  readonly subjectMm: number;
  readonly imageMm: number;
  readonly magnification: number;
}

/**
 * The conjugates of a barrel distance `D` (from the sensor plane): u + v = D and u·v = f·D, so u = (D + √(D(D − 4f)))/2 and v = f·D/u, a form
 * without cancellation. Infinity gives the picture at the focal length.
 * @throws {RangeError} when the distance is shorter than four focal lengths: no thin lens focuses there.
 */
export function conjugates(focalLengthMm: number, barrelDistanceMm: number): Conjugates {
  assertLength('focal length', focalLengthMm);
  if (barrelDistanceMm === Number.POSITIVE_INFINITY) return { subjectMm: barrelDistanceMm, imageMm: focalLengthMm, magnification: 0 };
  if (!(barrelDistanceMm >= 4 * focalLengthMm)) {
    throw new RangeError(`a ${focalLengthMm} mm lens cannot focus at ${barrelDistanceMm} mm from the sensor: the least is four focal lengths, ${4 * focalLengthMm} mm`);
  }
  const subjectMm = (barrelDistanceMm + Math.sqrt(barrelDistanceMm * (barrelDistanceMm - 4 * focalLengthMm))) / 2;
  const imageMm = (focalLengthMm * barrelDistanceMm) / subjectMm;
  return { subjectMm, imageMm, magnification: imageMm / subjectMm };
}

/** Subject distance from the lens for a distance written on the barrel (from the sensor plane). */
export function subjectFromLens(focalLengthMm: number, barrelDistanceMm: number): number {
  return conjugates(focalLengthMm, barrelDistanceMm).subjectMm;
}

/**
 * How much larger the picture becomes when focus goes from the first distance to the second (both from the lens): s − 1 = f(u1 − u2)/(u1(u2 − f)).
 * A thin lens that moves as a whole; real lenses may breathe less, more or the other way, so this is an estimate whose sign is not known.
 */
export function breathing(focalLengthMm: number, subjectMm1: number, subjectMm2: number): number {
  assertLength('focal length', focalLengthMm);
  if (!(subjectMm2 > focalLengthMm) || !(subjectMm1 > focalLengthMm)) throw new RangeError('focus lies inside the focal length');
  if (subjectMm1 === Number.POSITIVE_INFINITY) return subjectMm2 === Number.POSITIVE_INFINITY ? 0 : focalLengthMm / (subjectMm2 - focalLengthMm);
  if (subjectMm2 === Number.POSITIVE_INFINITY) return -focalLengthMm / subjectMm1;
  return (focalLengthMm * (subjectMm1 - subjectMm2)) / (subjectMm1 * (subjectMm2 - focalLengthMm));
}

/** Guards the formulas: a length is a number above 0. @throws {RangeError} */
export function assertLength(name: string, lengthMm: number): void {
  if (!(lengthMm > 0) || lengthMm === Number.POSITIVE_INFINITY) throw new RangeError(`${name} is a length above 0 mm, not ${lengthMm}`);
}
