import type { EventLine } from './event-line.ts';
import { EVENT_FORM, holdsTimes, looksLikeEvent, parseEventLine } from './event-line.ts';
import type { NoteLine } from './notes.ts';
import { clipped } from './notes.ts';
import type { SpeedLine } from './speed.ts';
import { parseSpeedLine } from './speed.ts';

/** One event line with everything that stands below it, and the counting mode in force at it. */
export interface ScannedEvent {
  readonly event: EventLine;
  readonly drop: boolean;
  readonly notes: readonly NoteLine[];
  readonly speeds: readonly SpeedLine[];
}

/** An event line that could not be read, with what stands below it. */
export interface BrokenEvent {
  readonly fault: ScanFault;
  readonly number: string | undefined;
  readonly notes: readonly NoteLine[];
}

/** A list taken apart by its lines. Each event line that could not be read has a fault. */
export interface ScannedList {
  readonly title: string | undefined;
  /** Undefined without an FCM line. */
  readonly fcm: 'drop' | 'non-drop' | undefined;
  readonly mixedFcm: boolean;
  readonly events: readonly ScannedEvent[];
  readonly broken: readonly BrokenEvent[];
  readonly faults: readonly ScanFault[];
}

export interface ScanFault {
  readonly line: number;
  readonly severity: 'warn' | 'note';
  readonly found: string;
  readonly expected: string;
}

/** Machine notes and effect notes without a star: kept as comments, never a fault. */
const KNOWN_NOTE = /^(?:\*|>>>|AUD\b|EFFECTS? NAME\b|SPLIT\s*:|GPI\b|TRIGGER\b|SWM\b|M1\b|FINAL CUT|FROM CLIP|TO CLIP|SOURCE FILE|FROM FILE|LOC\b|ASC_S|COMMENT|KEY CLIP|BLEND\b|CLIP COMMENT|REEL\b|FREEZE FRAME)/iu;

/** Some twenty times what a line of a list holds. */
const LONGEST_LINE = 2000;

interface Scanning {
  event: EventLine;
  drop: boolean;
  notes: NoteLine[];
  speeds: SpeedLine[];
}

/** Takes a list apart: events with the notes below them, whatever the line ends; a byte order mark and a last Ctrl-Z are passed over. */
export function scanLines(text: string): ScannedList {
  const events: Scanning[] = [];
  const faults: ScanFault[] = [];
  const modes = new Set<boolean>();
  let title: string | undefined;
  let drop = false;
  const broken: { fault: ScanFault; number: string | undefined; notes: NoteLine[] }[] = [];
  // Notes below an event that could not be read are not those of the event above it.
  let current: Scanning | undefined;
  const breakAt = (fault: ScanFault, words: string): void => {
    current = undefined;
    faults.push(fault);
    broken.push({ fault, number: /^\d{1,9}(?=\s)/u.exec(words)?.[0], notes: [] });
  };
  text.replace(/^\uFEFF/u, '').replaceAll('\u001A', '').split(/\r\n|\r|\n/u).forEach((raw, index) => {
    const line = index + 1;
    const words = raw.trim();
    if (words === '') return;
    if (words.length > LONGEST_LINE) {
      const fault: ScanFault = { line, severity: 'warn', found: `a line of ${words.length} characters`, expected: `at most ${LONGEST_LINE} characters in a line; it is not read` };
      if (looksLikeEvent(raw)) breakAt(fault, words);
      else faults.push(fault);
      return;
    }
    if (/^TITLE\s*:/iu.test(words)) {
      title ??= words.replace(/^TITLE\s*:\s*/iu, '');
    } else if (/^FCM\s*:/iu.test(words)) {
      drop = !/NON[\s-]*DROP/iu.test(words);
      modes.add(drop);
    } else if (looksLikeEvent(raw)) {
      const event = parseEventLine(raw, line);
      if ('line' in event) events.push((current = { event, drop, notes: [], speeds: [] }));
      else breakAt({ line, severity: 'warn', found: `${event.found} in "${clipped(words)}"`, expected: event.expected }, words);
    } else if (/^M2\b/iu.test(words)) {
      const speed = parseSpeedLine(words, line);
      if (speed === undefined) faults.push({ line, severity: 'warn', found: `"${clipped(words)}"`, expected: 'M2  reel  speed in frames a second  timecode' });
      else current?.speeds.push(speed);
    } else if (!KNOWN_NOTE.test(words) && holdsTimes(words)) {
      breakAt({ line, severity: 'warn', found: `"${clipped(words)}", which holds timecodes and begins with no event number`, expected: `an event: ${EVENT_FORM}` }, words);
    } else {
      if (!KNOWN_NOTE.test(words)) faults.push({ line, severity: 'note', found: `"${clipped(words)}"`, expected: 'an event, a comment that begins with *, or a known note; it is kept as a comment' });
      (current ?? broken.at(-1))?.notes.push({ line, text: words });
    }
  });
  return { title, fcm: modes.size === 0 ? undefined : [...modes][0] === true ? 'drop' : 'non-drop', mixedFcm: modes.size > 1, events, broken, faults };
}
