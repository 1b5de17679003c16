import { ImpossibleValueError, assertAbove0, unsignedZero } from './impossible.ts';

/** Stops of light lost per unit of optical density: 1 / log10(2); a filter of density 0.3 takes 0.9966 stop, not 1. */
const STOPS_PER_DENSITY = 1 / Math.log10(2);

/** What decides how bright the sensor's picture is. `exposureS` in seconds, `density` the sum of the neutral filters. */
export interface LightSetting {
  readonly stop: number;
  readonly exposureS: number;
  readonly density: number;
}

/** Exposure time of a shutter angle, seconds: (angle / 360) / sensor rate. */
export function exposureTime(shutterDeg: number, sensorFps: number): number {
  assertAbove0('shutter', shutterDeg, 360);
  assertAbove0('sensor rate', sensorFps, 1e6);
  return shutterDeg / 360 / sensorFps;
}

/** The shutter as cameras print it beside the angle: 1/x of a second, as x. 180° at 24 fps is 48. */
export function shutterSpeed(shutterDeg: number, sensorFps: number): number {
  return 1 / exposureTime(shutterDeg, sensorFps);
}

/**
 * How many stops brighter the second setting is than the first: 2·log2(T1/T2) + log2(t2/t1) − (D2 − D1)/log10 2. The EI is left out: in raw and log
 * recordings it is a number for the development, see `indexDifference`.
 */
export function exposureDifference(first: LightSetting, second: LightSetting): number {
  assertDensity(first.density);
  assertDensity(second.density);
  return unsignedZero(stopDifference(first.stop, second.stop) + timeDifference(first.exposureS, second.exposureS) - stopsOfDensity(second.density - first.density));
}

/** Stops by which the second iris is brighter than the first: 2·log2(T1/T2). Exact numbers; for printed marks see `exactStop`. */
export function stopDifference(first: number, second: number): number {
  assertAbove0('stop', first);
  assertAbove0('stop', second);
  return unsignedZero(2 * Math.log2(first / second));
}

/** Stops by which the second exposure time lets in more light than the first: log2(t2/t1). */
export function timeDifference(firstS: number, secondS: number): number {
  assertAbove0('exposure time', firstS);
  assertAbove0('exposure time', secondS);
  return unsignedZero(Math.log2(secondS / firstS));
}

/** Stops by which the second EI is brighter than the first, once both are developed as rated. */
export function indexDifference(first: number, second: number): number {
  assertAbove0('exposure index', first);
  assertAbove0('exposure index', second);
  return unsignedZero(Math.log2(second / first));
}

/** Stops of light a density takes; of a difference of densities, what the second takes more than the first. @throws {ImpossibleValueError} beyond ±20. */
export function stopsOfDensity(density: number): number {
  if (!(Math.abs(density) <= 20)) throw new ImpossibleValueError('density', density, 'an optical density up to 20');
  return unsignedZero(density * STOPS_PER_DENSITY);
}

/** Guards the density of a filter. @throws {ImpossibleValueError} below 0 or above 20. */
export function assertDensity(density: number): void {
  if (!(density >= 0 && density <= 20)) throw new ImpossibleValueError('density', density, 'an optical density from 0 to 20');
}

/** The part of the light a density lets through, 0..1: 10^−D. */
export function transmittance(density: number): number {
  return 2 ** -stopsOfDensity(density);
}

/** Stops of light a filter marked by its factor takes: ND8 takes 3. */
export function stopsOfFactor(factor: number): number {
  if (!(factor >= 1 && factor <= 1e6)) throw new ImpossibleValueError('filter factor', factor, 'a factor from 1 up');
  return Math.log2(factor);
}

/** Printed marks and the stops above 1 they stand for, in sixths so that halves and thirds are whole (ISO 517 rounds them to two figures). */
const MARKS: ReadonlyMap<number, number> = new Map([
  ...[0.7, 1, 1.4, 2, 2.8, 4, 5.6, 8, 11, 16, 22, 32, 45, 64].map((mark, index) => [mark, (index - 1) * 6] as const),
  ...[0.8, 1.1, 1.6, 2.2, 3.2, 4.5, 6.3, 9, 13, 18, 25].map((mark, index) => [mark, (index - 1) * 6 + 2] as const),
  ...[0.9, 1.3, 1.8, 2.5, 3.5, 5, 7.1, 10, 14, 20, 29].map((mark, index) => [mark, (index - 1) * 6 + 4] as const),
  ...[1.2, 1.7, 2.4, 3.3, 4.8, 6.7, 9.5].map((mark, index) => [mark, index * 6 + 3] as const),
  [19, 8 * 6 + 3],
]);

/** The exact number a printed mark stands for: 2.8 means 2.8284, 11 means 11.3137. A number that is no mark (2.9) is taken as it is. */
export function exactStop(marked: number): number {
  assertAbove0('stop', marked);
  const sixths = MARKS.get(marked);
  return sixths === undefined ? marked : 2 ** (sixths / 12);
}
