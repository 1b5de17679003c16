import type { FrameRate } from '../timecode/rate.ts';
import { rateAsNumber } from '../timecode/rate.ts';
import type { Shutter } from './statement.ts';

/** A shutter in degrees: 360 × time × rate of the sensor. Undefined for a time without a rate. */
export function shutterDegrees(shutter: Shutter, sensorRate: FrameRate | undefined): number | undefined {
  if (shutter.kind === 'angle') return shutter.degrees;
  return sensorRate === undefined ? undefined : shutter.seconds * rateAsNumber(sensorRate) * 360;
}
