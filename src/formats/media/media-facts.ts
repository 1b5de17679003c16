import type { ReadingProblem } from '../../core/material/finding.ts';
import type { Field, FieldValues, Raster, Statement } from '../../core/material/statement.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { formatRate } from '../../core/timecode/rate.ts';
import type { Timecode } from '../../core/timecode/timecode.ts';
import { formatTimecode } from '../../core/timecode/timecode.ts';
import { isUnknown } from '../values/unknown.ts';

export type Container = 'mov' | 'mp4' | 'mxf' | 'dpx' | 'exr' | 'tiff' | 'png' | 'raw' | 'unknown';

/**
 * Whether a file is all there. `whole`: everything its header announces stands in it. `truncated`: it begins right and ends
 * too soon. `open`: its writer has not finished it. `unverified`: nothing in it can tell. `empty`: no bytes.
 * `unreadable`: not the kind of file its name says.
 */
export type Condition = 'whole' | 'truncated' | 'open' | 'unverified' | 'empty' | 'unreadable';

/** `complete` is `ReadClip.complete`; `why` a sentence without a full stop. */
export interface Completeness {
  readonly condition: Condition;
  readonly complete: boolean | null;
  readonly why: string;
}

/** One value of one field, the text it was read from, and its place in the file ("tmcd track", "byte 1920"). */
export type FoundValue = { [F in Field]: { readonly field: F; readonly value: FieldValues[F]; readonly raw: string; readonly place: string } }[Field];

/** A named text the file carries whose meaning its standard leaves to the writer: read it as one would a report's heading and cell. */
export interface FoundText {
  readonly name: string;
  readonly text: string;
  readonly place: string;
}

/** Something wrong in the file, before the file's name is known. */
export type FoundProblem = Omit<ReadingProblem, 'file'>;

/** What a reader knows before `mediaFacts` adds what follows from it. */
export interface MediaReading {
  readonly container: Container;
  readonly completeness: Completeness;
  readonly values: readonly FoundValue[];
  readonly texts?: readonly FoundText[];
  readonly problems?: readonly FoundProblem[];
  /** Timecode of the first picture. */
  readonly timecode?: Timecode;
  /** Mean rate of a file whose pictures last differently long; it then has no `rate`. */
  readonly averageRate?: FrameRate;
  /** Degrees clockwise by which a player turns the picture; the raster is the one before turning. */
  readonly rotationDeg?: number;
  /** Parts of the file that carry metadata this reader leaves alone ("uuid", "udta XMP_"); another reader may bring more. */
  readonly notUnderstood?: readonly string[];
}

/** What one media file says of itself. The single facts repeat the first of `values` for that field. */
export interface MediaFacts {
  readonly container: Container;
  readonly completeness: Completeness;
  readonly values: readonly FoundValue[];
  readonly texts: readonly FoundText[];
  readonly problems: readonly FoundProblem[];
  readonly timecode?: Timecode;
  readonly averageRate?: FrameRate;
  readonly rotationDeg?: number;
  readonly notUnderstood: readonly string[];
  readonly moreMetadata: boolean;
  readonly frames?: number;
  readonly rate?: FrameRate;
  readonly timecodeRate?: FrameRate;
  readonly sensorRate?: FrameRate;
  readonly raster?: Raster;
  readonly codec?: string;
  readonly reel?: string;
}

/** The facts a reading amounts to. Texts that say "unknown" in one of its spellings are no values. */
export function mediaFacts(reading: MediaReading): MediaFacts {
  const values = reading.values.filter(({ value }) => typeof value !== 'string' || !isUnknown(value));
  const notUnderstood = [...new Set(reading.notUnderstood ?? [])].toSorted((a, b) => (a < b ? -1 : 1));
  const facts = { texts: [], problems: [], ...reading, values, notUnderstood, moreMetadata: notUnderstood.length > 0 };
  const single = {
    frames: firstOf(values, 'frames'),
    rate: firstOf(values, 'fps'),
    timecodeRate: firstOf(values, 'timecodeRate'),
    sensorRate: firstOf(values, 'sensorFps'),
    raster: firstOf(values, 'raster'),
    codec: firstOf(values, 'codec'),
    reel: firstOf(values, 'reel'),
  };
  return { ...facts, ...present(single) };
}

/** Every value as a statement of the file itself. `file` is relative to the media root. */
export function statementsOf(facts: MediaFacts, file: string): Statement[] {
  return facts.values.map(({ place, ...rest }) => ({ ...rest, source: { kind: 'embedded', file, place } }));
}

/** What is wrong with the file, worst first: that it is not whole, then what its parts got wrong. */
export function problemsOf(facts: MediaFacts, file: string): ReadingProblem[] {
  const own = facts.problems.map((problem) => ({ ...problem, file }));
  const condition = conditionProblem(facts.completeness);
  return condition === undefined ? own : [{ ...condition, file }, ...own];
}

function conditionProblem({ condition, why }: Completeness): FoundProblem | undefined {
  const expected = 'a whole clip';
  switch (condition) {
    case 'whole':
    case 'unverified':
      return undefined;
    case 'truncated':
      return { code: 'truncated-clip', severity: 'stop', place: '', found: why, expected, remedy: 'copy the clip again from the card and keep the card until it reads' };
    case 'open':
      return { code: 'still-growing', severity: 'warn', place: '', found: why, expected, remedy: 'wait until the copy or the recording has ended, then look again' };
    case 'empty':
    case 'unreadable':
      return { code: 'unreadable-clip', severity: 'stop', place: '', found: why, expected, remedy: 'copy the clip again from the card; if it stays unreadable, ask the camera crew' };
    default:
      return condition satisfies never;
  }
}

/** The first value found for a field. */
export function firstOf<F extends Field>(values: readonly FoundValue[], field: F): FieldValues[F] | undefined {
  const first = values.find((value) => value.field === field);
  return first === undefined ? undefined : (first.value as FieldValues[F]);
}

/** One found value. The pairing of field and value is checked by the caller's types. */
export function found<F extends Field>(field: F, value: FieldValues[F], raw: string, place: string): FoundValue {
  return { field, value, raw, place } as FoundValue;
}

/** The values that state a timecode: its label, whether it drops, and the rate it counts at. */
export function timecodeValues(timecode: Timecode, place: string, rate: FrameRate | undefined): FoundValue[] {
  const label = formatTimecode(timecode);
  const values = [found('tcIn', label, label, place), found('dropFrame', timecode.format.drop, timecode.format.drop ? 'drop' : 'non-drop', place)];
  return rate === undefined ? values : [...values, found('timecodeRate', rate, formatRate(rate), place)];
}

/** A value that cannot be right: it is left out and said so. */
export function doubtful(place: string, what: string, expected: string): FoundProblem {
  return { code: 'unreadable-value', severity: 'warn', place, found: what, expected, remedy: 'check it against the camera report' };
}

/** A file of no bytes. */
export const EMPTY: Completeness = { condition: 'empty', complete: false, why: 'the file holds no bytes' };

type Present<T> = { [K in keyof T]?: Exclude<T[K], undefined> };

/** The same object without the keys that are undefined. */
export function present<T extends object>(values: T): Present<T> {
  return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as Present<T>;
}
