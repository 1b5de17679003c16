import type { Field, FieldValues } from '../../core/material/statement.ts';
import { rateFromDecimal } from '../../core/timecode/rate.ts';
import { isUnknown } from '../values/unknown.ts';
import type { FoundValue } from './media-facts.ts';
import { found } from './media-facts.ts';
import { shotDay } from './shot-day.ts';
import { member, numberMember, textMember } from './unknown-json.ts';

/** Reads one tag's value; none when it says nothing. */
type TagReading = (tags: unknown, key: string) => readonly FoundValue[];

/** One fact: the names of the tags that state it, best first, and how a tag's value is read. */
interface TagRule {
  readonly names: readonly string[];
  readonly read: TagReading;
}

/**
 * What ExifTool's tags (`-n -G1`) say of lens, exposure, camera and slate: numbers unformatted, distances in metres, focal length in mm.
 * Container facts are left to the header readers, which are exact; above all ExifTool's StartTimecode of an MXF, which is seconds. Where
 * the same tag stands in several groups with different values, all are given: a disagreement for others to see.
 */
export function parseExiftoolTags(tags: unknown): FoundValue[] {
  const keys = typeof tags === 'object' && tags !== null ? Object.keys(tags).filter(isOfTheShot) : [];
  return RULES.flatMap(({ names, read }) => {
    const readings = names.map((name) => distinct(keys.filter((key) => nameOf(key) === name).flatMap((key) => read(tags, key))));
    return readings.find((values) => values.length > 0) ?? [];
  });
}

function nameOf(key: string): string {
  return key.slice(key.lastIndexOf(':') + 1);
}

/**
 * Leaves out what describes an embedded preview, the file, or ExifTool's own arithmetic. REDCODE's `Take` repeats the clip number: it
 * is no slated take.
 */
function isOfTheShot(key: string): boolean {
  return !/^(?:(?:IFD1|SubIFD\d*|System|File|Composite|ExifTool|Preview\w*):|Red:Take$)/u.test(key);
}

function distinct(values: readonly FoundValue[]): FoundValue[] {
  const seen = new Map(values.toReversed().map((each) => [JSON.stringify([each.field, each.value]), each]));
  return values.filter((each) => seen.get(JSON.stringify([each.field, each.value])) === each);
}

type TextField = 'lens' | 'lensSerial' | 'cameraModel' | 'cameraSerial' | 'camera' | 'scene' | 'take' | 'reel' | 'slate' | 'notes';

function text(field: TextField, ...names: string[]): TagRule {
  const read: TagReading = (tags, key) => {
    const words = wordsOf(tags, key);
    return words === undefined ? [] : [found(field, words, words, `ExifTool ${key}`)];
  };
  return { names, read };
}

function wordsOf(tags: unknown, key: string): string | undefined {
  const words = (textMember(tags, key) ?? numberMember(tags, key)?.toString())?.replaceAll(/\s+/gu, ' ');
  return words === undefined || isUnknown(words) ? undefined : words;
}

/** A number above 0 and below `limit`: zero, negatives and what lies beyond are how cameras write "unknown" (FocusDistance -0.001, ISO 65535). */
function number<F extends Field>(field: F, limit: number, of: (value: number) => FieldValues[F] | undefined, ...names: string[]): TagRule {
  const read: TagReading = (tags, key) => {
    const value = numberMember(tags, key);
    const made = value === undefined || value <= 0 || value >= limit ? undefined : of(value);
    return made === undefined ? [] : [found(field, made, String(member(tags, key)), `ExifTool ${key}`)];
  };
  return { names, read };
}

const DAY: TagRule = { names: ['DateTimeOriginal', 'CreationDate', 'ShotDate'], read: (tags, key) => shotDay(wordsOf(tags, key) ?? '', `ExifTool ${key}`) };

const RULES: readonly TagRule[] = [
  text('lens', 'LensModel', 'Lens'),
  text('lensSerial', 'LensSerialNumber', 'LensNumber'),
  number('focalLength', 5000, (mm) => mm, 'FocalLength'),
  number('focusDistance', 10_000, (metres) => metres, 'FocusDistance', 'SubjectDistance'),
  number('stop', 100, (stop) => ({ kind: 'T', number: stop }), 'TStop', 'TNumber'),
  number('stop', 100, (stop) => ({ kind: 'f', number: stop }), 'FNumber', 'ApertureValue'),
  number('shutter', 361, (degrees) => ({ kind: 'angle', degrees }), 'ShutterAngle'),
  number('shutter', 3600, (seconds) => ({ kind: 'time', seconds }), 'ExposureTime', 'ShutterSpeedValue'),
  number('ei', 65_535, (ei) => ei, 'ISO', 'ISOSpeed', 'PhotographicSensitivity'),
  number('whiteBalance', 65_535, (kelvin) => (kelvin >= 1000 ? kelvin : undefined), 'ColorTemperature', 'WhiteBalanceKelvin'),
  number('sensorFps', 100_000, rateFromDecimal, 'CaptureFrameRate', 'SensorFrameRate'),
  text('cameraModel', 'Model', 'CameraModelName'),
  text('cameraSerial', 'SerialNumber', 'CameraSerialNumber', 'InternalSerialNumber'),
  text('camera', 'CameraLabel'),
  text('scene', 'Scene', 'SceneNumber'),
  text('take', 'TakeNumber', 'Take'),
  text('slate', 'ShotName', 'SlateInformation'),
  text('reel', 'TapeName', 'ReelNumber', 'ReelOrRollNumber', 'ReelName'),
  text('notes', 'LogComment', 'ShotNotes'),
  DAY,
];
