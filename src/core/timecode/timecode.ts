import type { FrameRate } from './rate.ts';
import { hasDropFrame, nominalBase, rateName } from './rate.ts';

/** How labels are written: whole labels a second and whether two (four, eight) labels a minute are left out. Says nothing of real time. */
export interface TimecodeFormat {
  readonly base: number;
  readonly drop: boolean;
}

/** A point on the timecode track: frames counted from 00:00:00:00, and how its label is written. */
export interface Timecode {
  readonly frame: number;
  readonly format: TimecodeFormat;
}

/** A label has eleven letters; what is far longer is no label, and need not be quoted in full. */
const LONGEST_SHOWN = 40;

/** Why a label cannot be read. `label` is what was found, `reason` a sentence fragment without a full stop. */
export class TimecodeError extends Error {
  readonly label: string;
  readonly reason: string;

  constructor(label: string, reason: string) {
    super(`timecode "${label.length > LONGEST_SHOWN ? `${label.slice(0, LONGEST_SHOWN)}…` : label}": ${reason}`);
    this.name = 'TimecodeError';
    this.label = label;
    this.reason = reason;
  }
}

/** A label taken apart, before anything is known of its rate. `separatorDrop` is true for ";" or "," before the frames. */
export interface LabelParts {
  readonly hours: number;
  readonly minutes: number;
  readonly seconds: number;
  readonly frames: number;
  readonly separatorDrop: boolean;
}

/**
 * The label format of a rate.
 * @throws {RangeError} when drop frame is asked for at a rate that has none.
 */
export function timecodeFormat(rate: FrameRate, drop: boolean): TimecodeFormat {
  if (drop && !hasDropFrame(rate)) throw new RangeError(`there is no drop-frame timecode at ${rateName(rate)} fps`);
  return { base: nominalBase(rate), drop };
}

/** Labels left out at each minute that is not a multiple of ten: 2 at 30, 4 at 60, 8 at 120; 0 without drop frame (ST 12-1). */
function droppedPerMinute({ base, drop }: TimecodeFormat): number {
  return drop ? base / 15 : 0;
}

/** Labels in one day: 86400 × base, less 1296 × the labels dropped a minute. */
export function framesPerDay(format: TimecodeFormat): number {
  return 86_400 * format.base - 1296 * droppedPerMinute(format);
}

const LABEL = /^(\d{1,2}):(\d{1,2}):(\d{1,2})([:;.,])(\d{1,3})$/;
const LABEL_SEMICOLONS = /^(\d{1,2});(\d{1,2});(\d{1,2});(\d{1,3})$/;

/**
 * The four numbers of a label such as `14:22:33:04` or `14:22:33;04`.
 * @throws {TimecodeError} when the text is not of that shape.
 */
export function parseLabelParts(label: string): LabelParts {
  const text = label.trim();
  const parts = LABEL.exec(text);
  const semicolons = parts === null ? LABEL_SEMICOLONS.exec(text) : null;
  const groups = parts ?? semicolons;
  if (groups === null) throw new TimecodeError(label, 'expected HH:MM:SS:FF, or HH:MM:SS;FF for drop frame');
  const separator = parts === null ? ';' : (parts[4] ?? ':');
  return {
    hours: Number(groups[1]),
    minutes: Number(groups[2]),
    seconds: Number(groups[3]),
    frames: Number(groups[parts === null ? 4 : 5]),
    separatorDrop: separator !== ':',
  };
}

/**
 * The frame number of a label written in the given format. The separator is not judged: a camera's drop flag beats it
 * (reports often write ":" throughout), so the caller decides the format.
 * @throws {TimecodeError} when a field is out of range or the label is one that drop frame leaves out.
 */
export function parseLabel(label: string, format: TimecodeFormat): Timecode {
  const { hours, minutes, seconds, frames } = parseLabelParts(label);
  if (hours > 23) throw new TimecodeError(label, `hour ${hours} is beyond 23`);
  if (minutes > 59) throw new TimecodeError(label, `minute ${minutes} is beyond 59`);
  if (seconds > 59) throw new TimecodeError(label, `second ${seconds} is beyond 59`);
  if (frames >= format.base) {
    throw new TimecodeError(label, `frame ${frames} does not exist at ${format.base} labels a second (00 to ${format.base - 1})`);
  }
  const dropped = droppedPerMinute(format);
  if (seconds === 0 && frames < dropped && minutes % 10 !== 0) {
    throw new TimecodeError(
      label,
      `this label does not exist in drop frame: minute ${String(minutes).padStart(2, '0')} starts at frame ${String(dropped).padStart(2, '0')}`,
    );
  }
  const minuteCount = 60 * hours + minutes;
  const counted = (60 * minuteCount + seconds) * format.base + frames;
  return { frame: counted - dropped * (minuteCount - Math.floor(minuteCount / 10)), format };
}

/** The label of a frame number, wrapped into one day: `14:22:33:04`, with ";" before the frames when drop frame; three frame digits above base 100. */
export function formatTimecode({ frame, format }: Timecode): string {
  const day = framesPerDay(format);
  let count = ((frame % day) + day) % day;
  const dropped = droppedPerMinute(format);
  if (dropped > 0) {
    const perTenMinutes = 600 * format.base - 9 * dropped;
    const perMinute = 60 * format.base - dropped;
    const tens = Math.floor(count / perTenMinutes);
    const rest = count % perTenMinutes;
    count += 9 * dropped * tens;
    // The first minute of each ten keeps all its labels, so it is 60 × base long and the others are shorter.
    if (rest >= 60 * format.base) count += dropped * (1 + Math.floor((rest - 60 * format.base) / perMinute));
  }
  const frames = count % format.base;
  const totalSeconds = Math.floor(count / format.base);
  const two = (value: number): string => String(value).padStart(2, '0');
  const clock = `${two(Math.floor(totalSeconds / 3600))}:${two(Math.floor(totalSeconds / 60) % 60)}:${two(totalSeconds % 60)}`;
  return `${clock}${format.drop ? ';' : ':'}${String(frames).padStart(format.base > 100 ? 3 : 2, '0')}`;
}

/** Whether labels of two formats can be compared at all. */
export function sameFormat(a: TimecodeFormat, b: TimecodeFormat): boolean {
  return a.base === b.base && a.drop === b.drop;
}

/** The timecode `frames` later (or earlier), not wrapped: ranges that cross midnight stay in order. */
export function shiftTimecode(timecode: Timecode, frames: number): Timecode {
  return { frame: timecode.frame + frames, format: timecode.format };
}
