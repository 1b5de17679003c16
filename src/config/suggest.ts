import { rateFromText, rateName } from '../core/timecode/rate.ts';
import { nearestWord } from './nearest-word.ts';
import type { Config } from './resolved.ts';

/** What JSON Schema says of one place, as far as a suggestion needs it. */
export interface Asked {
  readonly enum?: readonly unknown[];
  readonly type?: unknown;
  /** One of these, where a value may also be left empty. */
  readonly anyOf?: readonly unknown[];
}

/** The value somebody most likely meant to write: the nearest of the words allowed, a number without its unit, true for "yes". Undefined when nothing tells. */
export function meantValue(written: unknown, asked: Asked): string | number | boolean | undefined {
  if (typeof written !== 'string') return undefined;
  const plain = written.trim().toLowerCase();
  const { enum: words, type } = [asked, ...(asked.anyOf ?? [])].find(isAsked) ?? asked;
  if (words !== undefined) {
    const known = words.filter((word): word is string => typeof word === 'string');
    const near = nearestWord(plain, known.map((word) => word.toLowerCase()));
    return known.find((word) => word.toLowerCase() === near) ?? known.find((word) => plain.startsWith(word.toLowerCase()));
  }
  if (type === 'boolean') return YES.has(plain) ? true : NO.has(plain) ? false : undefined;
  const number = /^(\d+(?:\.\d+)?)\s*[a-z%°]*$/.exec(plain)?.[1];
  if (number === undefined || (type !== 'number' && type !== 'integer')) return undefined;
  return type === 'integer' && !Number.isInteger(Number(number)) ? undefined : Number(number);
}

function isAsked(one: unknown): one is Asked {
  return typeof one === 'object' && one !== null && ('enum' in one || ('type' in one && one.type !== 'null'));
}

const YES = new Set(['yes', 'y', 'on', 'true', '1']);
const NO = new Set(['no', 'n', 'off', 'false', '0']);

/** The rate in "23.98 fps" by the name people use: 23.976. Undefined when there is none. */
export function meantRate(written: unknown): string | undefined {
  const number = typeof written === 'string' ? /\d+(?:\.\d+)?(?:\/\d+)?/.exec(written)?.[0] : undefined;
  const rate = number === undefined ? undefined : rateFromText(number);
  return rate === undefined ? undefined : rateName(rate);
}

/** The default of the very key at a path of a pipeline file, where it is a number, true or false, or a map of numbers. */
export function defaultAt(defaults: Config, path: readonly PropertyKey[]): unknown {
  let place: unknown = defaults;
  for (const segment of path) {
    if (typeof place !== 'object' || place === null || Array.isArray(place)) return undefined;
    const name = String(segment).replaceAll('_', '').toLowerCase();
    place = Object.entries(place).find(([key]) => key.replaceAll('-', '').toLowerCase() === name.replaceAll('-', ''))?.[1];
  }
  if (typeof place === 'number' || typeof place === 'boolean') return place;
  if (typeof place !== 'object' || place === null || Array.isArray(place)) return undefined;
  const values: readonly unknown[] = Object.values(place);
  return values.length > 0 && values.every((value) => typeof value === 'number') ? place : undefined;
}
