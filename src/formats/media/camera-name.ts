import type { Statement } from '../../core/material/statement.ts';
import type { FoundValue } from './media-facts.ts';
import { found } from './media-facts.ts';

/** What a camera-style clip name says. `rest` is what follows, such as a camera's own code or words somebody added. */
export interface CameraName {
  /** Camera letter, upper case. */
  readonly camera: string;
  /** `A003`. */
  readonly roll: string;
  /** `C012`. */
  readonly clip: string;
  /** `2026-11-25`, or `--11-25` when the name carries no year (ISO 8601). */
  readonly date?: string;
  /** Which part of a clip that the camera split over several files, from 1. */
  readonly part?: number;
  readonly rest: string;
}

/** Roll and clip, joined or apart: `A003C012_…`, `A003_C012_…`, `A_0003C012_…` (common practice of digital cinema cameras, no source). */
const ROLL_CLIP = /(?:^|[_\-. ])([A-Z])_?(\d{3,4})_?(C\d{3,4})(?=$|[_\-. ])[_\-. ]?(.*)$/iu;
/** Roll, month, day, hour and minute, clip: `A002_11250930_C014`. */
const ROLL_TIME_CLIP = /(?:^|[_\-. ])([A-Z])(\d{3})_(\d{2})(\d{2})\d{4}_(C\d{3})(?=$|[_\-. ])[_\-. ]?(.*)$/iu;
const YEAR_MONTH_DAY = /^(\d{2})(\d{2})(\d{2})(?=[A-Z]{2}(?![a-z])|$|[_\-. ])[_\-. ]?(.*)$/u;
const MONTH_DAY = /^(\d{2})(\d{2})(?=[A-Z0-9]{2}(?:$|[_\-. ]))(.*)$/u;
const PART = /^(.*?)[_\-. ]?(\d{3})$/u;

/** Takes a clip's name apart; folders and extension are left out. Undefined when it is not of that style. */
export function parseCameraName(file: string): CameraName | undefined {
  const name = file.slice(file.lastIndexOf('/') + 1).replace(/(?:\.#+)?\.[A-Za-z0-9]{1,5}$/u, '');
  const timed = ROLL_TIME_CLIP.exec(name);
  if (timed !== null) {
    const [, camera = '', roll = '', month = '', day = '', clip = '', rest = ''] = timed;
    return named(camera, roll, clip, { ...dated(undefined, month, day), rest });
  }
  const [, camera, roll = '', clip = '', after = ''] = ROLL_CLIP.exec(name) ?? [];
  return camera === undefined ? undefined : named(camera, roll, clip, dateAndRest(after));
}

function named(camera: string, roll: string, clip: string, more: Pick<CameraName, 'date' | 'part' | 'rest'>): CameraName {
  const letter = camera.toUpperCase();
  return { camera: letter, roll: `${letter}${roll}`, clip: clip.toUpperCase(), ...more };
}

function dateAndRest(after: string): Pick<CameraName, 'date' | 'part' | 'rest'> {
  const [, year, month = '', day = '', rest = ''] = YEAR_MONTH_DAY.exec(after) ?? [];
  if (year !== undefined) {
    const date = dated(year, month, day);
    if (date.date !== undefined) return { ...date, rest };
  }
  const short = MONTH_DAY.exec(after);
  const date = short === null ? {} : dated(undefined, short[1] ?? '', short[2] ?? '');
  if (short === null || date.date === undefined) return { rest: after };
  const [, code, part] = PART.exec(short[3] ?? '') ?? [];
  return part === undefined ? { ...date, rest: short[3] ?? '' } : { ...date, part: Number(part), rest: code ?? '' };
}

/** A date hint, left out when month or day do not exist. */
function dated(year: string | undefined, month: string, day: string): { date?: string } {
  if (Number(month) < 1 || Number(month) > 12 || Number(day) < 1 || Number(day) > 31) return {};
  return { date: `${year === undefined ? '-' : `20${year}`}-${month}-${day}` };
}

/** What a file's name states: camera, roll, clip, and the date when it has a year. `file` is relative to the media root. */
export function nameStatements(file: string): Statement[] {
  const name = parseCameraName(file);
  if (name === undefined) return [];
  const place = 'file name';
  const values: FoundValue[] = [
    found('camera', name.camera, name.camera, place),
    found('roll', name.roll, name.roll, place),
    found('clip', name.clip, name.clip, place),
    ...(name.date === undefined || name.date.startsWith('-') ? [] : [found('date', name.date, name.date, place)]),
  ];
  return values.map(({ place: where, ...rest }) => ({ ...rest, source: { kind: 'name', file, place: where } }));
}
