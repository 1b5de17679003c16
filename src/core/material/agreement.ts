import type { FrameRate } from '../timecode/rate.ts';
import { sameRate } from '../timecode/rate.ts';
import type { TimecodeFormat } from '../timecode/timecode.ts';
import { parseLabel } from '../timecode/timecode.ts';
import { cameraLetter, clipNumberName, rollNumber } from './clip-names.ts';
import { sameDate } from './dates.ts';
import { shutterDegrees } from './shutter.ts';
import type { Filters, Statement, Stop } from './statement.ts';

/** What comparing two sources of one clip needs to know besides the two values. */
export interface ComparingContext {
  /** Percent of the larger value. */
  readonly sourcesPercent: number;
  readonly lengthFrames: number;
  /** Rate of the sensor, or of the file when nobody states it: a shutter time needs it. */
  readonly shutterRate: FrameRate | undefined;
  readonly timecodeFormat: TimecodeFormat | undefined;
  /** The serial of the lens that the source of a statement states with it. */
  readonly serialBeside: (statement: Statement) => string | undefined;
}

/**
 * Whether two statements of one field say the same, within what writing and rounding do to a value. Fields of which each source
 * has its own wording (codec, notes), and slates and passes, which are weighed elsewhere, always agree here.
 */
export function agrees(a: Statement, b: Statement, context: ComparingContext): boolean {
  if (a.raw === b.raw && a.value === b.value) return true;
  switch (a.field) {
    case 'fps':
    case 'sensorFps':
    case 'timecodeRate':
      return b.field !== a.field || sameRate(a.value, b.value) || isShortFor(a, a.value, b.value) || isShortFor(b, b.value, a.value);
    case 'shutter':
      return b.field !== 'shutter' || sameShutter(a, b, context);
    case 'stop':
      return b.field !== 'stop' || sameStop(a.value, b.value, context.sourcesPercent);
    case 'filters':
      return b.field !== 'filters' || sameFilters(a.value, b.value, context.sourcesPercent);
    case 'raster':
      return b.field !== 'raster' || (a.value.width === b.value.width && a.value.height === b.value.height);
    case 'lens':
      return b.field !== 'lens' || sameLens(a, b, context);
    case 'tcIn':
      return b.field !== 'tcIn' || sameLabel(a.value, b.value, context.timecodeFormat);
    case 'frames':
      return b.field !== 'frames' || Math.abs(a.value - b.value) <= context.lengthFrames;
    // Zero is a common reading of both, so a share of the value would mean nothing; half a degree is a hand-written degree rounded.
    case 'tilt':
    case 'rollAngle':
    case 'tint':
      return b.field !== a.field || Math.abs(a.value - b.value) <= Math.max(0.5, share(a.value, b.value, context.sourcesPercent));
    case 'focalLength':
    case 'focusDistance':
    case 'ei':
    case 'whiteBalance':
    case 'squeeze':
    case 'cameraHeight':
    case 'subjectDistance':
    case 'backgroundDistance':
      return b.field !== a.field || near(a.value, b.value, context.sourcesPercent);
    case 'dropFrame':
      return a.value === b.value;
    case 'circled':
      // A camera that nobody told of the circle says "no": only a yes is a statement.
      return b.value === false || a.value === b.value;
    case 'camera':
      return b.field !== 'camera' || cameraLetter(a.value) === cameraLetter(b.value);
    case 'roll':
      return b.field !== 'roll' || sameRoll(a.value, b.value);
    case 'clip':
      return b.field !== 'clip' || clipNumberName(a.value) === clipNumberName(b.value);
    case 'lensSerial':
    case 'cameraSerial':
      return b.field !== a.field || sameSerial(a.value, b.value);
    case 'cameraModel':
      return b.field !== 'cameraModel' || sameName(a.value, b.value);
    case 'method':
      return b.field !== 'method' || squash(a.value) === squash(b.value);
    case 'date':
      return b.field !== 'date' || sameDate(a.value, b.value);
    case 'file':
    case 'scene':
    case 'setup':
    case 'take':
    case 'slate':
    case 'pass':
    case 'forSlate':
    case 'tcOut':
    case 'notes':
    case 'codec':
    case 'reel':
      return true;
    default:
      return a satisfies never;
  }
}

/**
 * Whether a whole rate is another's short name: crews write 24 in a report for 23.976 (common practice, no source), and cameras count
 * timecode "at 24" there. Only a report is read so loosely, and only the whole number: who writes 23.976 means it.
 */
function isShortFor({ field, source }: Statement, whole: FrameRate, exact: FrameRate): boolean {
  return (source.kind === 'report' || field === 'timecodeRate') && whole.den === 1 && exact.den === 1001 && exact.num === whole.num * 1000;
}

function share(a: number, b: number, percent: number): number {
  return (Math.max(Math.abs(a), Math.abs(b)) * percent) / 100;
}

function near(a: number, b: number, percent: number): boolean {
  return a === b || Math.abs(a - b) <= share(a, b, percent) + 1e-9;
}

function sameShutter(a: Statement & { field: 'shutter' }, b: Statement & { field: 'shutter' }, { shutterRate, sourcesPercent }: ComparingContext): boolean {
  const degreesA = shutterDegrees(a.value, shutterRate);
  const degreesB = shutterDegrees(b.value, shutterRate);
  // An angle and a time cannot be compared without a rate.
  return degreesA === undefined || degreesB === undefined || near(degreesA, degreesB, sourcesPercent);
}

/** Printed marks are rounded (11 means 11.31, 22 means 22.63), which is up to 0.09 stop or 3 % of the number. */
const MARKS_PERCENT = 3;
/** A lens lets through a little less than its f-number says: its T-number is larger by a few percent, seldom more than 15. */
const T_AGAINST_F_PERCENT = 15;

function sameStop(a: Stop, b: Stop, percent: number): boolean {
  const kindsDiffer = a.kind !== b.kind && a.kind !== 'unknown' && b.kind !== 'unknown';
  return near(a.number, b.number, Math.max(percent, kindsDiffer ? T_AGAINST_F_PERCENT : MARKS_PERCENT));
}

/** Densities are compared where both are known; words only where neither is. */
function sameFilters(a: Filters, b: Filters, percent: number): boolean {
  if (a.ndDensity !== undefined && b.ndDensity !== undefined) return near(a.ndDensity, b.ndDensity, percent);
  if (a.ndDensity !== undefined || b.ndDensity !== undefined) return true;
  return sameName(a.text, b.text);
}

function sameLens(a: Statement & { field: 'lens' }, b: Statement & { field: 'lens' }, { serialBeside }: ComparingContext): boolean {
  const serialA = serialBeside(a);
  const serialB = serialBeside(b);
  if (serialA !== undefined && serialB !== undefined) return sameSerial(serialA, serialB);
  return sameName(a.value, b.value);
}

/** One name holds the other: "ARRI SP40 T1.8" and "sp40", "SIGMA 40mm T1.5 FF" and "Sigma FF 40mm". */
export function sameName(a: string, b: string): boolean {
  const squashedA = squash(a);
  const squashedB = squash(b);
  if (squashedA.includes(squashedB) || squashedB.includes(squashedA)) return true;
  const wordsA = wordsOf(a);
  const wordsB = wordsOf(b);
  const [fewer, more] = wordsA.size <= wordsB.size ? [wordsA, wordsB] : [wordsB, wordsA];
  return [...fewer].every((word) => more.has(word));
}

function wordsOf(text: string): ReadonlySet<string> {
  return new Set(text.normalize('NFKC').toLowerCase().match(/[\p{L}\p{N}]+(?:\.\d+)?/gu) ?? []);
}

/** Letters and digits alone, lower case. */
function squash(text: string): string {
  return text.normalize('NFKC').toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
}

/** "7032" and "7032.0100", "02566" and "2566": one may carry more behind, or zeros in front. */
export function sameSerial(a: string, b: string): boolean {
  const bareA = squash(a).replace(/^0+/u, '');
  const bareB = squash(b).replace(/^0+/u, '');
  const [shorter, longer] = bareA.length <= bareB.length ? [bareA, bareB] : [bareB, bareA];
  return shorter === longer || (shorter.length >= 4 && longer.startsWith(shorter));
}

function sameRoll(a: string, b: string): boolean {
  const numberA = rollNumber(a);
  const numberB = rollNumber(b);
  return numberA === undefined || numberB === undefined ? squash(a) === squash(b) : numberA === numberB;
}

function sameLabel(a: string, b: string, format: TimecodeFormat | undefined): boolean {
  if (format === undefined) return squash(a) === squash(b);
  try {
    return parseLabel(a, format).frame === parseLabel(b, format).frame;
  } catch {
    // A label that does not exist is a reading problem, told where it stands; it contradicts nothing.
    return true;
  }
}
