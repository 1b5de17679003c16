import type { Field, FieldValues, Source, Statement } from '../../core/material/statement.ts';
import { readAngle, readTilt } from './angle.ts';
import { readFrameCount } from './count.ts';
import { readDistance, readFocusDistance, readPosition } from './distance.ts';
import { readExposureIndex } from './exposure-index.ts';
import { readFilters } from './filters.ts';
import { readFocalLength } from './focal-length.ts';
import { readRaster } from './raster.ts';
import { readRate } from './rate.ts';
import type { Reading } from './reading.ts';
import { BLANK, unreadable } from './reading.ts';
import { readShutter } from './shutter.ts';
import { readSqueeze } from './squeeze.ts';
import { readStop } from './stop.ts';
import { readTake } from './take.ts';
import { readTimecodeLabel } from './timecode-label.ts';
import type { CellUnit } from './unit.ts';
import { readTint, readWhiteBalance } from './white-balance.ts';
import { readFileName, readLensName, readWords } from './words.ts';
import { readCircled, readDropFrame } from './yes-no.ts';

type Reader<T> = (text: string, unit?: CellUnit) => Reading<T>;

const rateOnly = (text: string): Reading<FieldValues['fps']> => {
  const reading = readRate(text);
  return reading.kind === 'value' ? { kind: 'value', value: reading.value.rate } : reading;
};

/** A clip of no frames is an export that does not know. */
const frameCount = (text: string): Reading<number> => {
  const reading = readFrameCount(text);
  return reading.kind === 'value' && reading.value === 0 ? BLANK : reading;
};

const READERS: { readonly [F in Field]: Reader<FieldValues[F]> } = {
  file: readFileName, camera: readWords, roll: readWords, clip: readWords, scene: readWords, setup: readWords, take: readTake,
  slate: readWords, pass: readWords, forSlate: readWords, circled: readCircled, tcIn: readTimecodeLabel, tcOut: readTimecodeLabel,
  fps: rateOnly, sensorFps: rateOnly, shutter: readShutter, lens: readLensName, lensSerial: readWords, focalLength: readFocalLength,
  focusDistance: readFocusDistance, stop: readStop, filters: readFilters, ei: readExposureIndex, whiteBalance: readWhiteBalance,
  tint: readTint, raster: readRaster, squeeze: readSqueeze, cameraHeight: readPosition, tilt: readTilt, rollAngle: readAngle,
  subjectDistance: readDistance, backgroundDistance: readDistance, method: readWords, notes: readWords, date: readWords,
  dropFrame: readDropFrame, timecodeRate: rateOnly, frames: frameCount, codec: readWords, cameraModel: readWords,
  cameraSerial: readWords, reel: readWords,
};

/** No name and no figure is longer; only remarks are. Keeps what is compared, shown and searched everywhere within bounds. */
const LONGEST = 1000;

/** The value of a field as people write it; `unit` is the heading's, for a cell that has none of its own. Never throws. */
export function readField<F extends Field>(field: F, text: string, unit?: CellUnit): Reading<FieldValues[F]> {
  if (text.length > LONGEST && field !== 'notes') return unreadable(`at most ${LONGEST} characters`);
  return READERS[field](text, unit);
}

/** A statement of a field: the one place where a field and its value are tied together. */
export function makeStatement<F extends Field>(field: F, value: FieldValues[F], raw: string, source: Source): Statement {
  return { field, value, raw, source } as Statement;
}

/** What one cell comes to: its statements (a rate may say drop frame too), or what was expected; `assumed` is to be printed. */
export interface CellReading {
  readonly statements: readonly Statement[];
  readonly assumed?: string;
  readonly expected?: string;
}

/** Reads a cell of a field into statements. */
export function readCell(field: Field, text: string, unit: CellUnit | undefined, source: Source): CellReading {
  const reading = readField(field, text, unit);
  if (reading.kind === 'blank') return { statements: [] };
  if (reading.kind === 'unreadable') return { statements: [], expected: reading.expected };
  const dropFrame = field === 'fps' ? dropFrameOf(text) : undefined;
  const statements = [makeStatement(field, reading.value, text.trim(), source), ...(dropFrame === undefined ? [] : [makeStatement('dropFrame', dropFrame, text.trim(), source)])];
  return reading.assumed === undefined ? { statements } : { statements, assumed: reading.assumed };
}

function dropFrameOf(text: string): boolean | undefined {
  const reading = readRate(text);
  return reading.kind === 'value' ? reading.value.dropFrame : undefined;
}
