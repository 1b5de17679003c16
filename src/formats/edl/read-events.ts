import type { CutEvent, UnreadEvent } from '../../core/material/cut-event.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';
import type { FrameRange } from '../../core/timecode/range.ts';
import { lengthOf } from '../../core/timecode/range.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { TimecodeError, framesPerDay } from '../../core/timecode/timecode.ts';
import { trackOf } from './event-line.ts';
import type { ListTime } from './list-timecode.ts';
import { readListTime } from './list-timecode.ts';
import type { EventNotes, NoteLine } from './notes.ts';
import { readNotes } from './notes.ts';
import { listProblem } from './list-problem.ts';
import type { ScannedEvent } from './scan-lines.ts';
import type { SpeedLine } from './speed.ts';
import { fitsSpeed, framesUsed, retimeOf, retimedRange } from './speed.ts';

export interface EventsRead {
  readonly events: readonly CutEvent[];
  readonly unread: readonly UnreadEvent[];
  readonly problems: readonly ReadingProblem[];
}

/** What can be told of an event that could not be read. */
export function unreadEvent(problem: ReadingProblem, number: string | undefined, lines: readonly NoteLine[]): UnreadEvent {
  const { fromClip, locators, comments } = readNotes(lines, problem.file);
  return {
    problem,
    ...(number === undefined ? {} : { number }),
    ...(fromClip === undefined ? {} : { clipName: fromClip }),
    markers: locators.map(({ text }) => text),
    comments,
  };
}

/** An event with its times read, before transitions are joined. */
interface Timed {
  readonly scanned: ScannedEvent;
  readonly track: string;
  readonly source: FrameRange;
  readonly sourceTime: ListTime;
  readonly record: FrameRange;
}

/** Reels that stand for black, bars and the like. AX, a source without a tape, is a clip known by its name alone. */
const FILLER = /^(?:BL|BLACK|BARS|BAR|SLUG)$/iu;
const NO_REEL = /^AX$/iu;

/** The picture events of a list: transitions joined with what goes before them, speeds worked in, notes read. */
export function readEvents(scanned: readonly ScannedEvent[], file: string, rate: FrameRate): EventsRead {
  const reader = new EventReader(file, rate);
  scanned.forEach((event, index) => reader.read(event, scanned[index - 1], scanned[index + 1]));
  return { events: reader.events, unread: reader.unread, problems: reader.problems };
}

/** Reads event by event, since a transition changes the event before it. */
class EventReader {
  readonly events: CutEvent[] = [];
  readonly problems: ReadingProblem[] = [];
  readonly unread: UnreadEvent[] = [];
  readonly #file: string;
  readonly #rate: FrameRate;
  /** Place in `events` of the last event of each track. */
  readonly #lastOnTrack = new Map<string, number>();

  constructor(file: string, rate: FrameRate) {
    this.#file = file;
    this.#rate = rate;
  }

  read(scanned: ScannedEvent, before: ScannedEvent | undefined, after: ScannedEvent | undefined): void {
    const { event } = scanned;
    const track = trackOf(event.channel);
    // Sound alone is none of our business, and nothing is lost by leaving it out.
    if (track === undefined) return;
    if (event.reelHasSpaces) this.#say(event.line, `reel "${event.reel}" with spaces`, 'a reel of one word; it is taken as it stands', 'note');
    const timed = this.#time(scanned, track);
    if (timed === undefined) return;
    const isTransition = /^[DW]/u.test(event.type);
    if (isTransition && before?.event.number !== event.number) {
      this.#skip(scanned, `event ${event.number} of type ${event.type} with no line of its number before it`, 'two lines of one number: what the transition comes from, then what it goes to');
      return;
    }
    if (lengthOf(timed.record) === 0) {
      this.#readEmpty(timed, after);
      return;
    }
    const notes = this.#notes(scanned);
    if (isTransition) this.#joinTransition(timed, before, notes);
    this.#keep(timed, notes, isTransition, before !== undefined && FILLER.test(before.event.reel));
  }

  /** A line of no length is the first half of a transition; alone it shows nothing. */
  #readEmpty({ scanned: { event, notes } }: Timed, after: ScannedEvent | undefined): void {
    this.#reportFaults(readNotes(notes, this.#file));
    if (after?.event.number === event.number && /^[DW]/u.test(after.event.type)) return;
    this.#say(event.line, `event ${event.number} of no length`, 'an event of one frame or more, or the first line of a transition; it is passed over', 'note');
  }

  #time(scanned: ScannedEvent, track: string): Timed | undefined {
    const { event, drop } = scanned;
    try {
      const [sourceIn, sourceOut, recordIn, recordOut] = event.times.map((time) => readListTime(time, this.#rate, drop));
      if (sourceIn === undefined || sourceOut === undefined || recordIn === undefined || recordOut === undefined) return undefined;
      if (recordOut.frame < recordIn.frame) {
        this.#skip(scanned, `record out ${event.times[3]} before record in ${event.times[2]}`, 'out after in');
        return undefined;
      }
      const record = { start: recordIn.frame, end: recordOut.frame };
      const end = this.#sourceEnd(scanned, sourceIn, sourceOut, lengthOf(record));
      return end === undefined ? undefined : { scanned, track, source: { start: sourceIn.frame, end }, sourceTime: sourceIn, record };
    } catch (error) {
      if (!(error instanceof TimecodeError)) throw error;
      this.#skip(scanned, `"${error.label}": ${error.reason}`, 'a timecode that exists');
      return undefined;
    }
  }

  /** A source range may run across midnight, if its length is then that of the record range. */
  #sourceEnd(scanned: ScannedEvent, sourceIn: ListTime, sourceOut: ListTime, recordFrames: number): number | undefined {
    const { event, speeds } = scanned;
    if (sourceOut.frame >= sourceIn.frame) return sourceOut.frame;
    const end = sourceOut.frame + framesPerDay(sourceIn.format);
    const length = end - sourceIn.frame;
    const speed = speeds[0]?.speed;
    if (speed === undefined ? length === recordFrames : fitsSpeed(length, recordFrames, speed, this.#rate)) return end;
    this.#skip(scanned, `source out ${event.times[1]} before source in ${event.times[0]}`, 'out after in (or across midnight, as long as the record range)');
    return undefined;
  }

  #notes(scanned: ScannedEvent): EventNotes {
    const notes = readNotes(scanned.notes, this.#file);
    this.#reportFaults(notes);
    return notes;
  }

  #reportFaults({ faults }: EventNotes): void {
    for (const { line, found, expected } of faults) this.#say(line, found, expected, 'warn');
  }

  /** What a transition comes from is the event that ends where it begins: the reel of its first line is not always right. */
  #joinTransition({ scanned: { event, speeds }, track, record }: Timed, before: ScannedEvent | undefined, notes: EventNotes): void {
    const index = this.#lastOnTrack.get(track);
    const outgoing = index === undefined ? undefined : this.events[index];
    if (event.length > lengthOf(record)) {
      this.#say(event.line, `a transition of ${event.length} frames on an event of ${lengthOf(record)}`, 'a transition no longer than its event', 'warn');
    }
    if (before !== undefined && FILLER.test(before.event.reel)) return;
    if (index === undefined || outgoing === undefined || outgoing.record.end !== record.start) {
      this.#say(event.line, `event ${event.number} comes from no event that ends where it begins`, 'the event it dissolves from, since that one is needed for longer', 'warn');
      return;
    }
    const name = outgoing.clipName === undefined && notes.fromClip !== undefined ? { clipName: notes.fromClip } : {};
    const joined = { ...outgoing, ...name, dissolve: { ...outgoing.dissolve, tail: event.length } };
    const slow = speeds.length > 1 ? speeds.find(({ name: named }) => named === outgoing.reel) : undefined;
    const retime = outgoing.retime ?? (slow === undefined ? undefined : retimeOf(slow.speed, this.#rate));
    this.events[index] = retime === undefined ? joined : { ...joined, retime };
  }

  #keep(timed: Timed, notes: EventNotes, isTransition: boolean, fadesIn: boolean): void {
    const { scanned, track, record, sourceTime } = timed;
    const { event } = scanned;
    const speed = this.#speedOf(scanned, isTransition);
    const retime = speed === undefined ? (notes.freeze ? retimeOf(0, this.#rate) : undefined) : retimeOf(speed.speed, this.#rate);
    // Below a transition FROM names what it comes from, unless it comes from black.
    const clipName = isTransition ? (notes.toClip ?? (fadesIn ? notes.fromClip : undefined)) : notes.fromClip;
    const filler = FILLER.test(event.reel);
    this.#lastOnTrack.set(track, this.events.length);
    this.events.push({
      file: this.#file,
      place: `line ${event.line}`,
      number: event.number,
      track,
      ...(filler || NO_REEL.test(event.reel) ? {} : { reel: event.reel }),
      ...(clipName === undefined ? {} : { clipName }),
      ...(notes.sourceFile === undefined ? {} : { sourceFile: notes.sourceFile }),
      content: filler ? 'filler' : 'clip',
      source: { range: this.#sourceRange(timed, speed, retime), rate: this.#rate, format: sourceTime.format, counting: sourceTime.stated ? 'stated' : 'assumed' },
      record,
      ...(retime === undefined ? {} : { retime }),
      dissolve: { head: 0, tail: 0 },
      ...(event.type === 'C' ? {} : { transition: transitionWords(event.type, event.length) }),
      disabled: false,
      markers: this.#markers(notes, scanned.drop),
      comments: notes.comments,
      ...(notes.cdl === undefined ? {} : { cdl: notes.cdl }),
    });
  }

  /** Below a transition two speeds may stand, one a side; the name or the timecode tells which is which. */
  #speedOf({ event, speeds }: ScannedEvent, isTransition: boolean): SpeedLine | undefined {
    const own = speeds.find(({ time, name }) => time === event.times[0] && (name === '' || name === event.reel)) ?? speeds.find(({ time }) => time === event.times[0]);
    if (own !== undefined) return own;
    return isTransition && speeds.length > 1 ? speeds.find(({ name }) => name === event.reel) : speeds[0];
  }

  #sourceRange({ scanned: { event }, source, record }: Timed, speed: SpeedLine | undefined, retime: CutEvent['retime']): FrameRange {
    const stated = lengthOf(source);
    const wanted = lengthOf(record);
    if (retime === undefined) {
      if (stated !== wanted) this.#say(event.line, `${stated} source frames for ${wanted} record frames and no M2 line`, 'as many of one as of the other, or an M2 line with the speed; the source range is taken as it stands', 'warn');
      return source;
    }
    if (retime.kind === 'freeze' || speed === undefined) return retimedRange(source, wanted, { kind: 'freeze', words: '' }, true);
    const fits = fitsSpeed(stated, wanted, speed.speed, this.#rate);
    if (!fits) {
      const needed = framesUsed(wanted, retime.ratio);
      this.#say(speed.line, `${stated} source frames for ${wanted} record frames at M2 speed ${speed.speed}`, `about ${needed} source frames; they are counted from source in`, 'warn');
    }
    if (retime.ratio < 0) {
      this.#say(speed.line, `M2 speed ${speed.speed}, played backwards`, 'which end plays first differs from writer to writer: check the direction; the range is taken as it stands', 'note');
    }
    return retimedRange(source, wanted, retime, fits);
  }

  #markers({ locators }: EventNotes, drop: boolean): CutEvent['markers'] {
    return locators.flatMap(({ line, time, text }) => {
      try {
        return [{ frame: readListTime(time, this.#rate, drop).frame, text }];
      } catch (error) {
        if (!(error instanceof TimecodeError)) throw error;
        this.#say(line, `LOC "${error.label}": ${error.reason}`, 'a record timecode', 'note');
        return [];
      }
    });
  }

  #skip({ event, notes }: ScannedEvent, found: string, expected: string): void {
    const problem = listProblem(this.#file, event.line, found, `${expected}; the event is left out`);
    this.problems.push(problem);
    this.unread.push(unreadEvent(problem, event.number, notes));
  }

  #say(line: number, found: string, expected: string, severity: 'warn' | 'note'): void {
    this.problems.push(listProblem(this.#file, line, found, expected, severity));
  }
}

function transitionWords(type: string, length: number): string {
  if (type.startsWith('K')) return `key (${type})`;
  return `${type === 'D' ? 'dissolve' : `wipe ${type.slice(1)}`} of ${length} frames at its head`;
}
