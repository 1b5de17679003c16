import type { FrameRate } from '../../core/timecode/rate.ts';
import { formatRate } from '../../core/timecode/rate.ts';
import type { TimecodeFormat } from '../../core/timecode/timecode.ts';
import { TimecodeError, parseLabel, timecodeFormat } from '../../core/timecode/timecode.ts';
import { withoutAbsent } from '../tables/shot-rows.ts';
import { asNumber, asRecord } from './json-record.ts';
import type { JsonRecord } from './json-record.ts';
import type { Complaint } from './problem-list.ts';
import { readRate } from './read-camera.ts';

/** When a sample was taken: its label as a frame from midnight at the rate of the labels, and what orders samples of one label. */
export interface SampleTime {
  readonly label?: { readonly frame: number; readonly format: TimecodeFormat; readonly rate: FrameRate; readonly subFrame?: number };
  readonly sampleRate?: FrameRate;
  readonly sequence?: number;
  /** False when the tracker had lost its clock: labels then drift. */
  readonly locked?: boolean;
}

/** The timing of a sample; a label that cannot exist is a complaint. */
export function readTiming(value: unknown): SampleTime | Complaint {
  const timing = asRecord(value) ?? {};
  const locked = asRecord(timing['synchronization'])?.['locked'];
  const rest = withoutAbsent({ sampleRate: readRate(timing['sampleRate']), sequence: countOf(timing['sequenceNumber']), locked: typeof locked === 'boolean' ? locked : undefined });
  const written = asRecord(timing['timecode']);
  if (written === undefined) return rest;
  const label = readLabel(written);
  return 'found' in label ? label : { ...rest, label };
}

function readLabel(written: JsonRecord): NonNullable<SampleTime['label']> | Complaint {
  const rate = readRate(written['frameRate']);
  const parts = ['hours', 'minutes', 'seconds', 'frames'].map((name) => countOf(written[name]));
  if (rate === undefined || parts.some((part) => part === undefined)) return complaint('a timecode that is not complete', 'hours, minutes, seconds, frames and frameRate');
  const drop = written['dropFrame'] === true;
  const text = `${parts.slice(0, 3).map((part) => String(part).padStart(2, '0')).join(':')}${drop ? ';' : ':'}${String(parts[3]).padStart(2, '0')}`;
  try {
    const format = timecodeFormat(rate, drop);
    const { frame } = parseLabel(text, format);
    const subFrame = countOf(written['subFrame']);
    return { frame, format, rate, ...(subFrame === undefined ? {} : { subFrame }) };
  } catch (error) {
    if (error instanceof TimecodeError) return complaint(`the label ${text} at ${formatRate(rate)}`, `a label that exists: ${error.reason}`);
    if (error instanceof RangeError) return complaint(`drop frame at ${formatRate(rate)}`, 'drop frame at 30000/1001, 60000/1001 or 120000/1001 only');
    throw error;
  }
}

function countOf(value: unknown): number | undefined {
  const number = asNumber(value);
  return number !== undefined && Number.isSafeInteger(number) && number >= 0 ? number : undefined;
}

function complaint(found: string, expected: string): Complaint {
  return { found, expected, remedy: 'The sample is not used for comparing moves.' };
}
