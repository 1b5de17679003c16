import type { SensorArea } from '../../core/optics/angle-of-view.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { frameRate } from '../../core/timecode/rate.ts';
import { withoutAbsent } from '../tables/shot-rows.ts';
import { asNumber, asRecord, asText } from './json-record.ts';
import type { PlacedSample } from './read-samples.ts';
import type { ProblemList } from './problem-list.ts';
import type { TrackedCamera } from '../../core/material/tracked-move.ts';

/** Sensors are given in mm; older files give micrometres, and no sensor is a metre wide. */
const WIDEST_SENSOR_MM = 1000;

/** What a sample says of camera and lens; most samples say nothing, the rest is carried forward by the caller. */
export function readCamera({ file, place, value }: PlacedSample, problems: ProblemList): TrackedCamera {
  const fixed = asRecord(value['static']);
  const camera = asRecord(fixed?.['camera']) ?? {};
  const lens = asRecord(fixed?.['lens']) ?? {};
  const sensor = readSensor(camera['activeSensorPhysicalDimensions']);
  if (sensor?.isConverted === true) {
    problems.add(file, place, { found: `a sensor ${sensor.area.widthMm * 1000} wide`, expected: 'millimetres', remedy: 'It is taken for micrometres, as older versions of the format had them.' }, 'note');
  }
  return withoutAbsent({
    label: asText(camera['label']), model: asText(camera['model']), serial: asText(camera['serialNumber']),
    sensor: sensor?.area,
    squeeze: ratioOf(camera['anamorphicSqueeze']), shutterDeg: above0(camera['shutterAngle']), sensorRate: readRate(camera['captureFrameRate']), ei: above0(camera['isoSpeed']),
    lensModel: asText(lens['model']), lensSerial: asText(lens['serialNumber']), nominalFocalLengthMm: above0(lens['nominalFocalLength']),
  });
}

/** A rate as the format writes it: two whole numbers above 0. */
export function readRate(value: unknown): FrameRate | undefined {
  const record = asRecord(value);
  const [num, den] = [asNumber(record?.['num']), asNumber(record?.['denom'])];
  return num === undefined || den === undefined || !isCount(num) || !isCount(den) ? undefined : frameRate(num, den);
}

function isCount(value: number): boolean {
  return Number.isSafeInteger(value) && value > 0;
}

function ratioOf(value: unknown): number | undefined {
  const rate = readRate(value);
  return rate === undefined ? undefined : rate.num / rate.den;
}

function readSensor(value: unknown): { readonly area: SensorArea; readonly isConverted: boolean } | undefined {
  const record = asRecord(value);
  const [width, height] = [above0(record?.['width']), above0(record?.['height'])];
  if (width === undefined || height === undefined) return undefined;
  const isConverted = width > WIDEST_SENSOR_MM;
  return { area: isConverted ? { widthMm: width / 1000, heightMm: height / 1000 } : { widthMm: width, heightMm: height }, isConverted };
}

function above0(value: unknown): number | undefined {
  const number = asNumber(value);
  return number !== undefined && number > 0 ? number : undefined;
}
