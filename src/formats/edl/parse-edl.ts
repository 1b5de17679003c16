import type { Cut, CutEvent, UnreadEvent } from '../../core/material/cut-event.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { hasDropFrame, nominalBase, rateName } from '../../core/timecode/rate.ts';
import type { TimecodeFormat } from '../../core/timecode/timecode.ts';
import { framesField } from './list-timecode.ts';
import { listProblem } from './list-problem.ts';
import { clipped } from './notes.ts';
import { judgeTracks } from './judge-tracks.ts';
import { readEvents, unreadEvent } from './read-events.ts';
import type { ScannedEvent, ScannedList } from './scan-lines.ts';
import { scanLines } from './scan-lines.ts';
import { sameTrackOrder } from './track-order.ts';

/** What a list does not say itself. */
export interface EdlReading {
  /** Its name, as it is shown in problems. */
  readonly file: string;
  /** The rate it was cut at: an edit list only tells drop frame from non-drop. */
  readonly rate: FrameRate;
}

/** More problems than this of one file say no more. */
const MOST_PROBLEMS = 200;

/**
 * Reads a CMX 3600 edit decision list, one track or several. Never throws: what cannot be read is a problem with its line, and
 * the rest of the list still counts. A list whose frames do not fit the rate at all gives no events and one problem.
 */
export function parseEdl(text: string, { file, rate }: EdlReading): Cut {
  const list = scanLines(text);
  const format: TimecodeFormat = { base: nominalBase(rate), drop: list.fcm === 'drop' && hasDropFrame(rate) };
  const empty = { file, rate, format, gaps: [], ...(list.title === undefined || list.title === '' ? {} : { title: list.title }) };
  const refused = refuseWhole(text, list, file, rate);
  const met = list.events.length + list.broken.length;
  if (refused !== undefined) return { ...empty, events: [], skipped: met, unread: [{ problem: refused, markers: [], comments: [] }], problems: [refused] };
  const read = readEvents(list.events, file, rate);
  const tracks = judgeTracks(read.events, file);
  const problemOf = (fault: ScannedList['faults'][number]): ReadingProblem => listProblem(file, fault.line, fault.found, fault.expected, fault.severity);
  const scanned = list.faults.map(problemOf);
  const unread = [...list.broken.map(({ fault, number, notes }) => unreadEvent(problemOf(fault), number, notes)), ...read.unread];
  const problems = [...judgeModes(list, read.events, file, rate), ...scanned, ...read.problems, ...tracks.problems];
  return {
    ...empty,
    events: sameTrackOrder(read.events),
    gaps: tracks.gaps,
    skipped: unread.length,
    ...(unread.length === 0 ? {} : { unread: boundedEvents(unread.toSorted((a, b) => byLine(a.problem, b.problem)), file) }),
    problems: bounded(problems.toSorted(byLine), file),
  };
}

function wholeProblem(file: string, found: string, expected: string, remedy: string, place = ''): ReadingProblem {
  return { code: 'unreadable-file', severity: 'warn', file, place, found, expected, remedy };
}

function refuseWhole(text: string, { events, broken }: ScannedList, file: string, rate: FrameRate): ReadingProblem | undefined {
  if (text.includes('\0')) return wholeProblem(file, 'zero bytes, which no text holds', 'an edit decision list as text', 'Export the list again as CMX 3600.');
  if (events.length + broken.length === 0) {
    return wholeProblem(file, 'no event line', 'an edit decision list (CMX 3600)', 'Export the list again as CMX 3600, or take the file away if it is no list.');
  }
  const base = nominalBase(rate);
  const beyond = events.filter((scanned) => highestFrame(scanned) >= base);
  const [first] = beyond;
  if (first === undefined) return undefined;
  const found = `frame ${highestFrame(first)} in "${clipped(first.event.times.join(' '))}"${beyond.length > 1 ? `, and in ${beyond.length - 1} more events` : ''}`;
  return wholeProblem(
    file, found, `frames 00 to ${base - 1}, since the list is read at ${rateName(rate)} fps`,
    'Say the rate it was cut at: base_rate in the pipeline file. An edit list does not carry it.', `line ${first.event.line}`,
  );
}

function highestFrame({ event }: ScannedEvent): number {
  return Math.max(...event.times.map((time) => framesField(time) ?? 0));
}

/** How the list counts must be one thing: labels of drop frame and non-drop lie up to 108 frames an hour apart. */
function judgeModes({ fcm, mixedFcm, events }: ScannedList, read: readonly CutEvent[], file: string, rate: FrameRate): readonly ReadingProblem[] {
  const [first] = events;
  if (first === undefined) return [];
  const { line } = first.event;
  const remedy = 'Export the list again with one way of counting, or check the timecode of these events by hand.';
  if (!hasDropFrame(rate)) {
    return fcm === 'drop' ? [listProblem(file, line, 'FCM: DROP FRAME', `non-drop, since there is no drop frame at ${rateName(rate)} fps; it is read as non-drop`, 'warn', remedy)] : [];
  }
  const semicolons = events.find(({ event, drop }) => !drop && event.times.some((time) => time.includes(';')));
  const problems: ReadingProblem[] = [];
  if (mixedFcm) problems.push(listProblem(file, line, 'both FCM: DROP FRAME and FCM: NON-DROP FRAME', 'one way of counting; each event is read by the FCM line above it', 'warn', remedy));
  if (semicolons !== undefined && fcm !== undefined) {
    problems.push(listProblem(file, semicolons.event.line, '";" (drop frame) under FCM: NON-DROP FRAME', 'labels that agree with the FCM line; ";" is believed', 'warn', remedy));
  }
  const records = new Set(events.map(({ event, drop }) => event.times[2].includes(';') || drop));
  if (!mixedFcm && records.size > 1 && read.length > 0) {
    problems.push(listProblem(file, line, 'record timecode both with ";" and with ":"', 'one way of counting record timecode', 'warn', remedy));
  }
  return problems;
}

function byLine(a: ReadingProblem, b: ReadingProblem): number {
  return lineOf(a) - lineOf(b);
}

function lineOf({ place }: ReadingProblem): number {
  return Number(/\d+/u.exec(place)?.[0] ?? 0);
}

function bounded(problems: readonly ReadingProblem[], file: string): readonly ReadingProblem[] {
  if (problems.length <= MOST_PROBLEMS) return problems;
  const more = problems.length - MOST_PROBLEMS;
  return [...problems.slice(0, MOST_PROBLEMS), wholeProblem(file, `${more} more lines that cannot be read`, 'an edit decision list (CMX 3600)', 'Export the list again.')];
}

function boundedEvents(unread: readonly UnreadEvent[], file: string): readonly UnreadEvent[] {
  const more = unread.length - MOST_PROBLEMS;
  if (more <= 0) return unread;
  const problem = wholeProblem(file, `${more} more events that cannot be read`, 'an edit decision list (CMX 3600)', 'Export the list again.');
  return [...unread.slice(0, MOST_PROBLEMS), { problem, markers: [], comments: [] }];
}
