import type { ColourDecision } from '../../core/material/cut.ts';
import type { FrameRange } from '../../core/timecode/range.ts';
import { lengthOf } from '../../core/timecode/range.ts';
import type { TimecodeFormat } from '../../core/timecode/timecode.ts';
import { formatTimecode } from '../../core/timecode/timecode.ts';

/** One event to be written. Ranges are counted in labels from 00:00:00:00; ends are exclusive. */
export interface WrittenEvent {
  /** The full name of the source; what does not fit into the reel column is shortened there and kept whole in a comment. */
  readonly reel: string;
  /** "V" when absent; "V2" for a second track. */
  readonly track?: string;
  readonly source: FrameRange;
  /** Absent: the source counts as the list does. The list's base holds for both. */
  readonly sourceDrop?: boolean;
  readonly record: FrameRange;
  /** Source frames a second where they are not the list's own; 0 holds the first. */
  readonly speed?: number;
  readonly clipName?: string;
  readonly sourceFile?: string;
  readonly cdl?: ColourDecision;
  /** Free notes, a line each. */
  readonly comments?: readonly string[];
}

/** A list to be written: `format` is how its record timecode counts. */
export interface WrittenEdl {
  readonly title: string;
  readonly format: TimecodeFormat;
  readonly events: readonly WrittenEvent[];
}

/** What the number column holds. */
export const MOST_EVENTS = 999;
const REEL_LENGTH = 8;
const LINE_END = '\r\n';

/**
 * A CMX 3600 edit decision list of plain cuts, in record order. Reels are shortened to 8 of A-Z, 0-9 and "_" without two of them
 * becoming one. Reading it back gives the same ranges.
 * @throws {RangeError} above 999 events, and for an empty or unsound range.
 */
export function formatEdl({ title, format, events }: WrittenEdl): string {
  if (events.length > MOST_EVENTS) throw new RangeError(`an edit list holds ${MOST_EVENTS} events, not ${events.length}: write several`);
  const sorted = events.toSorted((a, b) => a.record.start - b.record.start);
  const reels = edlReels(sorted.map(({ reel }) => reel));
  const head = [`TITLE: ${plainLine(title)}`, '', `FCM: ${format.drop ? 'DROP FRAME' : 'NON-DROP FRAME'}`];
  const body = sorted.flatMap((event, index) => eventLines(event, index + 1, reels.get(event.reel) ?? '', format));
  return [...head, ...body].map((line) => `${line}${LINE_END}`).join('');
}

/** The reel column for each full name, in order; names that would become alike get a number at their end. */
export function edlReels(names: readonly string[]): ReadonlyMap<string, string> {
  const reels = new Map<string, string>();
  const used = new Set<string>();
  for (const name of new Set(names)) {
    const plain = plainReel(name);
    let reel = plain;
    for (let count = 2; used.has(reel); count += 1) reel = `${plain.slice(0, REEL_LENGTH - 1 - String(count).length)}_${count}`;
    used.add(reel);
    reels.set(name, reel);
  }
  return reels;
}

/** Names that mean black, bars or no source to whoever reads the list. */
const RESERVED = /^(?:BL|BLACK|BARS?|SLUG|AX)$/u;

function plainReel(name: string): string {
  const reel = name.normalize('NFKD').toUpperCase().replace(/\p{M}/gu, '').replace(/\.[A-Z0-9]{1,4}$/u, '').replace(/[^A-Z0-9_]/gu, '_').slice(0, REEL_LENGTH);
  if (reel === '') return 'SOURCE';
  return RESERVED.test(reel) ? `${reel}_` : reel;
}

function eventLines(event: WrittenEvent, number: number, reel: string, format: TimecodeFormat): readonly string[] {
  const { source, record, sourceDrop, track = 'V', speed } = event;
  for (const range of [source, record]) {
    if (!Number.isSafeInteger(range.start) || !Number.isSafeInteger(range.end) || lengthOf(range) < 1) {
      throw new RangeError(`event ${number}: frames ${range.start} to ${range.end} are no range`);
    }
  }
  const sourceFormat = { base: format.base, drop: sourceDrop ?? format.drop };
  const label = (frame: number, of: TimecodeFormat): string => formatTimecode({ frame, format: of });
  const times = [label(source.start, sourceFormat), label(source.end, sourceFormat), label(record.start, format), label(record.end, format)];
  return [
    `${String(number).padStart(3, '0')}  ${reel.padEnd(REEL_LENGTH)} ${track.padEnd(5)} C        ${times.join(' ')}`,
    ...(speed === undefined ? [] : [`M2   ${reel.padEnd(REEL_LENGTH)}       ${speedText(speed)}                ${times[0] ?? ''}`]),
    ...noted('FROM CLIP NAME', event.clipName),
    ...noted('SOURCE FILE', event.sourceFile ?? (event.reel === reel ? undefined : event.reel)),
    ...(event.cdl === undefined ? [] : colourLines(event.cdl)),
    ...(event.comments ?? []).map((comment) => `* ${plainLine(comment)}`),
  ];
}

function noted(name: string, value: string | undefined): readonly string[] {
  return value === undefined ? [] : [`* ${name}: ${plainLine(value)}`];
}

/** `047.6`, `-014.4`, `000.0`. */
function speedText(speed: number): string {
  return `${speed < 0 ? '-' : ''}${Math.abs(speed).toFixed(1).padStart(5, '0')}`;
}

function colourLines({ slope, offset, power, saturation }: ColourDecision): readonly string[] {
  const triple = (values: readonly number[]): string => `(${values.map((value) => value.toFixed(4)).join(' ')})`;
  return [`* ASC_SOP ${triple(slope)}${triple(offset)}${triple(power)}`, `* ASC_SAT ${saturation.toFixed(4)}`];
}

/** One line whatever is in it: a line end inside a name would begin an event. */
function plainLine(text: string): string {
  return text.replace(/\p{Cc}+/gu, ' ').trim();
}
