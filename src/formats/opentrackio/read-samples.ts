import { rewriteBareNumbers } from '../values/bare-numbers.ts';
import { asRecord } from './json-record.ts';
import type { JsonRecord } from './json-record.ts';
import type { ProblemList } from './problem-list.ts';

/** One sample as it stands in a file: "line 12", "sample 3" (of a list, from 1), "" when it is the file as a whole. */
export interface PlacedSample {
  readonly file: string;
  readonly place: string;
  readonly value: JsonRecord;
}

/** Packets of the live stream begin with these letters. */
const PACKET_MARK = 'OTrk';

/** Numbers that JSON has not. */
const BARE = /^-?(?:NaN|nan|Infinity|inf)\b/u;

/**
 * The samples of a recording. How they are strung together is not standardised: a JSON list, one sample a line and one sample a file are read.
 * NaN and Infinity, which JSON does not have but some writers write, become null and are then reported by the value they stand for.
 */
export function readSamples(text: string, file: string, problems: ProblemList): readonly PlacedSample[] {
  const plain = text.trimStart();
  if (plain.startsWith(PACKET_MARK)) {
    problems.add(file, 'byte 0', { found: 'raw packets of a live stream', expected: 'samples as JSON', remedy: 'Have the tracking recorded, or exported, as OpenTrackIO samples in JSON.' }, 'warn', 'unreadable-file');
    return [];
  }
  // A file of many lines is no JSON as a whole, and is seen to be none at the second line.
  const whole = plain.startsWith('[') ? parsed(plain) : parsedStrictly(plain);
  if (Array.isArray(whole)) return whole.flatMap((one, index) => placed(one, file, `sample ${index + 1}`, problems));
  if (whole !== undefined) return placed(whole, file, '', problems);
  return readLines(text, file, problems);
}

function readLines(text: string, file: string, problems: ProblemList): readonly PlacedSample[] {
  const values = text.split(/\r\n|\n|\r/).map((line) => (line.trim() === '' ? null : parsed(line)));
  if (!values.some((value) => asRecord(value) !== undefined)) {
    const whole = parsed(text);
    if (whole !== undefined) return placed(whole, file, '', problems);
    problems.add(file, '', { found: 'neither a list, a sample, nor one sample a line', expected: 'samples as JSON', remedy: 'Export the tracking again; a file cut off while it was written reads like this.' }, 'warn', 'unreadable-file');
    return [];
  }
  return values.flatMap((value, index) => {
    if (value === null) return [];
    if (value !== undefined) return placed(value, file, `line ${index + 1}`, problems);
    problems.add(file, `line ${index + 1}`, { found: 'a line that is no JSON', expected: 'one sample a line', remedy: 'The line is not used. Export the tracking again if more than the last line is cut off.' });
    return [];
  });
}

function placed(value: unknown, file: string, place: string, problems: ProblemList): readonly PlacedSample[] {
  const record = asRecord(value);
  if (record !== undefined) return [{ file, place, value: record }];
  problems.add(file, place, { found: 'something that is no sample', expected: 'an object', remedy: 'It is not used.' });
  return [];
}

function parsed(text: string): unknown {
  return parsedStrictly(text) ?? parsedStrictly(rewriteBareNumbers(text, BARE, () => 'null'));
}

function parsedStrictly(text: string): unknown {
  try {
    const value: unknown = JSON.parse(text);
    return value ?? undefined;
  } catch {
    return undefined;
  }
}
