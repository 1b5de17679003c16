/** A camera's own name for a clip, taken apart: `A003C012_261125_R7QK` is camera A, roll 3, clip 12. */
export interface CameraName {
  readonly camera: string;
  readonly roll: number;
  readonly clip: number;
  /** The short name the text begins with, as written: `A003C012`. */
  readonly short: string;
}

/** `A003C012…`, `A003_C012…`, or with the date between (`A003_11251430_C012`). Common practice of several makers, no source. */
const CAMERA_NAME = /^([A-Z])(\d{3,4})_?(?:\d{8}_)?C(\d{3,4})(?!\d)/iu;

/** The parts of a camera's clip name, or undefined when the text is none. */
export function parseCameraName(text: string): CameraName | undefined {
  const [short, camera, roll, clip] = CAMERA_NAME.exec(text.trim()) ?? [];
  if (short === undefined || camera === undefined) return undefined;
  return { camera: camera.toUpperCase(), roll: Number(roll), clip: Number(clip), short };
}

/** File name without folders, extension and the number mark of a sequence; the folder's name when only numbers are left. */
export function stemOf(file: string): string {
  const slash = file.lastIndexOf('/');
  const name = file.slice(slash + 1);
  const stem = withoutExtension(name.includes('#') ? name.replace(/[._-]?#+(?=\.[^.]*$)/u, '') : name);
  if (slash < 0 || (stem !== '' && !stem.startsWith('.'))) return stem;
  return file.slice(file.lastIndexOf('/', slash - 1) + 1, slash);
}

/** A name without its extension (up to five letters and digits). */
export function withoutExtension(name: string): string {
  return name.replace(/\.[A-Za-z0-9]{1,5}$/u, '');
}

/** Folder of a file; "" for the root. */
export function folderOf(file: string): string {
  return file.slice(0, Math.max(0, file.lastIndexOf('/')));
}

/** A name as it is looked up: composed letters, lower case, so that disks of different systems agree. */
export function foldName(name: string): string {
  return name.normalize('NFC').toLowerCase();
}

/** A camera letter: "A", "a cam" and "Camera A" are A. Other names stay as written, in capitals. */
export function cameraLetter(text: string): string {
  const written = text.trim().toUpperCase();
  const [, before, after] = /^(?:CAM(?:ERA)?[\s._-]*([A-Z])|([A-Z])[\s._-]*CAM(?:ERA)?)$/u.exec(written) ?? [];
  return before ?? after ?? written;
}

/** A roll as it is shown and compared: "A003"; a bare number gets the camera's letter, when that is known. */
export function rollName(text: string, camera: string | undefined): string {
  const written = text.trim().toUpperCase();
  return /^\d+$/u.test(written) && camera !== undefined ? `${camera}${written.padStart(3, '0')}` : written;
}

/** A clip number as it is shown and compared: "C012" for `12`, `C012`, `A003C012` and a camera's full name. */
export function clipNumberName(text: string): string {
  const written = text.trim().toUpperCase();
  const number = parseCameraName(written)?.clip ?? numberAfter(written, 'C');
  return number === undefined ? written : `C${String(number).padStart(3, '0')}`;
}

/** The number of a roll: 3 for "A003", "003" and "A003R7QK". */
export function rollNumber(text: string): number | undefined {
  const digits = /^[A-Z]?[\s_-]*(\d{1,4})(?!\d)/iu.exec(text.trim())?.[1];
  return digits === undefined ? undefined : Number(digits);
}

function numberAfter(text: string, letter: string): number | undefined {
  const [, before, digits] = /^([A-Z]?)[\s_-]*(\d{1,5})$/u.exec(text) ?? [];
  return digits === undefined || (before !== '' && before !== letter) ? undefined : Number(digits);
}
