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
  if (!(shutterDeg > 0) || !(sensorFps > 0)) throw new RangeError(`no exposure time from a shutter of ${shutterDeg}° at ${sensorFps} fps`);
  return shutterDeg / 360 / sensorFps;
}

/**
 * How many stops brighter the second setting is than the first: 2·log2(T1/T2) + log2(t2/t1) − (D2 − D1)/log10 2. The EI is left out: in raw and log
 * recordings it is a number for the development, see `indexDifference`.
 */
export function exposureDifference(first: LightSetting, second: LightSetting): number {
  return stopDifference(first.stop, second.stop) + Math.log2(second.exposureS / first.exposureS) - (second.density - first.density) * STOPS_PER_DENSITY;
}

/** Stops by which the second iris is brighter than the first: 2·log2(T1/T2). */
export function stopDifference(first: number, second: number): number {
  if (!(first > 0) || !(second > 0)) throw new RangeError(`a stop is a number above 0, not ${first} and ${second}`);
  return 2 * Math.log2(first / second);
}

/** Stops by which the second EI is brighter than the first, once both are developed as rated. */
export function indexDifference(first: number, second: number): number {
  if (!(first > 0) || !(second > 0)) throw new RangeError(`an exposure index is a number above 0, not ${first} and ${second}`);
  return Math.log2(second / first);
}

/** Stops of light a density takes. */
export function stopsOfDensity(density: number): number {
  return density * STOPS_PER_DENSITY;
}

/** Printed marks and the stops above 1 they stand for, in sixths so that halves and thirds are whole (ISO 517 rounds them to two figures). */
const MARKS: ReadonlyMap<number, number> = new Map([
  ...[1, 1.4, 2, 2.8, 4, 5.6, 8, 11, 16, 22, 32, 45, 64].map((mark, stops) => [mark, stops * 6] as const),
  ...[1.1, 1.6, 2.2, 3.2, 4.5, 6.3, 9, 13, 18, 25].map((mark, stops) => [mark, stops * 6 + 2] as const),
  ...[1.3, 1.8, 2.5, 3.5, 5, 7.1, 10, 14, 20, 29].map((mark, stops) => [mark, stops * 6 + 4] as const),
  ...[1.2, 1.7, 2.4, 3.3, 4.8, 6.7, 9.5].map((mark, stops) => [mark, stops * 6 + 3] as const),
  [19, 8 * 6 + 3],
]);

/** The exact number a printed mark stands for: 2.8 means 2.8284, 11 means 11.3137. A number that is no mark (2.9) is taken as it is. */
export function exactStop(marked: number): number {
  if (!(marked > 0)) throw new RangeError(`a stop is a number above 0, not ${marked}`);
  const sixths = MARKS.get(marked);
  return sixths === undefined ? marked : 2 ** (sixths / 12);
}
