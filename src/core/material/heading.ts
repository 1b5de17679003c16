import type { Field } from './statement.ts';

/** Every field that can be read, in the order of the canonical headings; those after `date` come from files and camera exports. */
export const FIELDS = [
  'file', 'camera', 'roll', 'clip', 'scene', 'setup', 'take', 'slate', 'pass', 'forSlate', 'circled', 'tcIn', 'tcOut', 'fps',
  'sensorFps', 'shutter', 'lens', 'lensSerial', 'focalLength', 'focusDistance', 'stop', 'filters', 'ei', 'whiteBalance', 'tint',
  'raster', 'squeeze', 'cameraHeight', 'tilt', 'rollAngle', 'subjectDistance', 'backgroundDistance', 'method', 'notes', 'date',
  'dropFrame', 'timecodeRate', 'frames', 'codec', 'cameraModel', 'cameraSerial', 'reel',
] as const satisfies readonly Field[];

/** The heading a field is written under: `focalLength` is `focal_length`. */
export function headingOf(field: Field): string {
  return field.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
}

/**
 * A heading as it is compared: lower case, without spaces, `_`, `-`, `.` and `#`. The degree sign stays, since "Roll" is a
 * camera roll and "Roll °" an angle; look-alikes of it are taken for it.
 */
export function normaliseHeading(text: string): string {
  return text.normalize('NFC').toLowerCase().replace(/[\s\uFEFF_\-.#]/gu, '').replace(/[\u00BA\u02DA]/gu, '°');
}
