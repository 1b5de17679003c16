import { rateName } from '../timecode/rate.ts';
import type { Chosen, ExposureFacts, LensFacts, PictureFacts, PositionFacts } from './clip.ts';
import { shutterDegrees } from './shutter.ts';
import type { SaidByField } from './trust.ts';
import { firstOf } from './trust.ts';

/** The lens, each value from the most trusted source. */
export function lensFacts(said: SaidByField): LensFacts {
  const lens: Writable<LensFacts> = {};
  choose(lens, 'model', firstOf(said, 'lens'));
  choose(lens, 'serial', firstOf(said, 'lensSerial'));
  choose(lens, 'focalLengthMm', firstOf(said, 'focalLength'));
  choose(lens, 'focusDistanceM', firstOf(said, 'focusDistance'));
  choose(lens, 'stop', firstOf(said, 'stop'));
  choose(lens, 'filters', firstOf(said, 'filters'));
  choose(lens, 'squeeze', firstOf(said, 'squeeze'));
  return lens;
}

/** The exposure; the shutter in degrees at the sensor's rate. */
export function exposureFacts(said: SaidByField): ExposureFacts {
  const exposure: Writable<ExposureFacts> = {};
  choose(exposure, 'shutterDeg', shutterFact(said));
  choose(exposure, 'ei', firstOf(said, 'ei'));
  choose(exposure, 'whiteBalanceK', firstOf(said, 'whiteBalance'));
  choose(exposure, 'tint', firstOf(said, 'tint'));
  return exposure;
}

/** Where the camera stood. */
export function positionFacts(said: SaidByField): PositionFacts {
  const position: Writable<PositionFacts> = {};
  choose(position, 'heightM', firstOf(said, 'cameraHeight'));
  choose(position, 'tiltDeg', firstOf(said, 'tilt'));
  choose(position, 'rollDeg', firstOf(said, 'rollAngle'));
  choose(position, 'subjectDistanceM', firstOf(said, 'subjectDistance'));
  choose(position, 'backgroundDistanceM', firstOf(said, 'backgroundDistance'));
  return position;
}

/** The recorded picture and its camera. */
export function pictureFacts(said: SaidByField): PictureFacts {
  const picture: Writable<PictureFacts> = {};
  choose(picture, 'raster', firstOf(said, 'raster'));
  choose(picture, 'codec', firstOf(said, 'codec'));
  choose(picture, 'cameraModel', firstOf(said, 'cameraModel'));
  choose(picture, 'cameraSerial', firstOf(said, 'cameraSerial'));
  return picture;
}

/** A record that is still being put together. */
export type Writable<T> = { -readonly [K in keyof T]: T[K] };

/** Puts down what is known; what is not stays absent. */
export function choose<T, K extends keyof T>(facts: T, name: K, said: T[K] | undefined): void {
  if (said !== undefined) facts[name] = said;
}

/** A time becomes an angle at the sensor's rate; at the file's, and said so, when nobody states the sensor's. */
function shutterFact(said: SaidByField): Chosen<number> | undefined {
  const shutter = firstOf(said, 'shutter');
  const sensorRate = firstOf(said, 'sensorFps')?.value;
  const rate = sensorRate ?? firstOf(said, 'fps')?.value;
  const degrees = shutter === undefined ? undefined : shutterDegrees(shutter.value, rate);
  if (shutter === undefined || degrees === undefined) return undefined;
  const assumed = shutter.value.kind === 'time' && sensorRate === undefined && rate !== undefined;
  const raw = assumed ? `${shutter.raw} (at the file's ${rateName(rate)} fps: no sensor rate is stated)` : shutter.raw;
  return { value: degrees, source: shutter.source, raw };
}
