import type { CutEvent, CutMarker, UnreadEvent } from '../../core/material/cut-event.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';
import type { FrameRange } from '../../core/timecode/range.ts';
import { lengthOf, overlap } from '../../core/timecode/range.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { clipEvent } from './clip-event.ts';
import { readRetime } from './effects.ts';
import { readMedia } from './media.ts';
import { readMarker } from './marker.ts';
import { readMetadata } from './metadata.ts';
import type { ClipContext, Placing, Seen } from './placing.ts';
import { isKnown, list, text, typed } from './schema.ts';
import type { Typed } from './schema.ts';
import type { Span, TimeFault } from './time.ts';
import { framesAt, isFault, readSpan, readTime, spanAt, whole } from './time.ts';

/** Stacks within tracks within stacks: no edit nests so deep, and a file that does is no edit. */
const DEEPEST = 100;
const MOST_EVENTS = 200_000;
const MOST_PROBLEMS = 200;

const UNSEEN: Seen = { head: 0, tail: 0 };
const EVERYWHERE: FrameRange = { start: -Number.MAX_SAFE_INTEGER, end: Number.MAX_SAFE_INTEGER };

/** Lays a timeline out on one line of frames. Depth, events and problems are bounded, so no file can exhaust it. */
export class Walk implements ClipContext {
  readonly events: CutEvent[] = [];
  readonly problems: ReadingProblem[] = [];
  /** Notes on tracks, stacks and the timeline, at frames of the cut. */
  readonly markers: CutMarker[] = [];
  readonly gaps: { place: string; track: string; frames: number }[] = [];
  /** What could not be read though it may show pictures. */
  readonly unread: UnreadEvent[] = [];
  readonly file: string;
  readonly rate: FrameRate;
  #unsaid = 0;
  readonly #said = new Set<string>();

  constructor(file: string, rate: FrameRate) {
    this.file = file;
    this.rate = rate;
  }

  /** The whole timeline, its first frame at `zero` of the cut. */
  walkRoot(root: Typed, zero: number): void {
    this.#walkItem(root, { path: 'tracks', zero, window: EVERYWHERE, track: '', disabled: false, depth: 0 }, UNSEEN);
  }

  /** Says what cannot be read, at its place in the tree. */
  say(path: string, fault: TimeFault, severity: 'warn' | 'note' = 'warn'): void {
    const key = `${placeOf(path)} ${fault.found}`;
    if (this.#said.has(key)) return;
    this.#said.add(key);
    if (this.problems.length >= MOST_PROBLEMS) {
      this.#unsaid += 1;
      return;
    }
    this.problems.push(this.#problem(path, fault, severity));
  }

  /** How many problems were met beyond those that are listed. */
  get unsaid(): number {
    return this.#unsaid;
  }

  /** Says what cannot be read, and keeps that it may have shown something: an item that is switched off shows nothing. */
  #lose(path: string, item: Typed | undefined, fault: TimeFault): void {
    this.say(path, fault);
    if (item?.keys['enabled'] === false || this.unread.length >= MOST_PROBLEMS || this.unread.some(({ problem }) => problem.place === placeOf(path))) return;
    const name = text(item?.keys['name']);
    this.unread.push({
      problem: this.#problem(path, fault, 'warn'),
      ...(name === undefined ? {} : { clipName: name }),
      markers: list(item?.keys['markers']).flatMap((marker) => readMarker(marker)?.text ?? []),
      comments: readMetadata(item?.keys['metadata'], `${this.file} ${path}`).comments,
    });
  }

  #problem(path: string, { found, expected }: TimeFault, severity: 'warn' | 'note'): ReadingProblem {
    return { code: 'unreadable-value', severity, file: this.file, place: placeOf(path), found, expected, remedy: 'Correct it in the edit and export the timeline again, or check these frames by hand.' };
  }

  #walkItem(item: Typed, placing: Placing, seen: Seen): void {
    if (placing.depth > DEEPEST) {
      this.#lose(placing.path, item, { found: `compositions nested more than ${DEEPEST} deep`, expected: 'a timeline whose nesting ends; what lies deeper is not read' });
      return;
    }
    const inner = { ...placing, disabled: placing.disabled || item.keys['enabled'] === false };
    switch (item.name) {
      case 'Stack': return this.#walkComposition(item, inner, (within) => this.#walkStack(item, within));
      case 'Track': return this.#walkComposition(item, inner, (within) => this.#walkTrack(item, within));
      case 'Clip': return this.#walkClip(item, inner, seen);
      default: return undefined;
    }
  }

  /** A source range trims what is composed: child time t is seen at t less its start. */
  #walkComposition(item: Typed, placing: Placing, walk: (within: Placing) => void): void {
    const { retime, fault } = readRetime(item.keys['effects']);
    if (retime !== undefined || fault !== undefined) {
      this.#lose(placing.path, item, fault ?? { found: `${retime?.words ?? 'a time effect'} on a ${item.name.toLowerCase()}`, expected: 'time effects on clips; what lies in it is not worked out' });
      return;
    }
    const range = this.#spanOf(item, placing.path);
    const trim = range === undefined ? undefined : spanAt(range, this.rate);
    const zero = trim === undefined ? placing.zero : whole(placing.zero - trim.start);
    const window = overlap(placing.window, trim === undefined ? EVERYWHERE : this.#seenThrough(trim, placing));
    this.#readMarkers(item, { ...placing, zero });
    if (window !== undefined) walk({ ...placing, zero, window, depth: placing.depth + 1 });
  }

  /**
   * The frames of the cut through which a trimmed composition is seen. A range that lies wholly before its time 0 would show
   * nothing; converters of edit lists write one to say at which record time a track begins, so it is taken for that.
   */
  #seenThrough(trim: FrameRange, { path, zero }: Placing): FrameRange {
    if (trim.end > 0) return { start: zero, end: zero + lengthOf(trim) };
    this.say(path, { found: `a range from frame ${trim.start}`, expected: 'one that begins at 0 or later; it is taken for where the track begins in the cut' }, 'note');
    return { start: zero - trim.start, end: zero - trim.start + lengthOf(trim) };
  }

  /** Children of a stack lie over each other from its time 0, the first at the bottom. */
  #walkStack(stack: Typed, placing: Placing): void {
    const children = this.#children(stack, placing.path);
    const pictures = children.filter(({ item }) => !isSound(item));
    pictures.forEach(({ item, path }, index) => {
      const own = placing.track === '' ? `V${index + 1}` : pictures.length === 1 ? placing.track : `${placing.track}.${index + 1}`;
      if (item.name === 'Track' && item.keys['kind'] === undefined) this.say(path, { found: 'a track without a kind', expected: 'Video or Audio; it is taken for video' }, 'note');
      this.#walkItem(item, { ...placing, path, track: own }, UNSEEN);
    });
  }

  /** Children of a track follow each other; transitions take no time, they show more of their neighbours. */
  #walkTrack(track: Typed, placing: Placing): void {
    const inTrack = placing.track === '' ? { ...placing, track: 'V1' } : placing;
    const children = this.#children(track, placing.path);
    let at = placing.zero;
    children.forEach(({ item, path }, index) => {
      if (item.name === 'Transition') {
        this.#checkTransition(item, path, children[index - 1]?.item, children[index + 1]?.item);
        return;
      }
      const length = this.#lengthOf(item, path, 0);
      const window = overlap(placing.window, { start: at, end: whole(at + length) });
      if (window !== undefined && item.name === 'Gap') this.gaps.push({ place: path, track: inTrack.track, frames: lengthOf(window) });
      else if (window !== undefined) this.#walkItem(item, { ...inTrack, path, zero: at, window }, this.#seenOf(children[index - 1]?.item, children[index + 1]?.item));
      at = whole(at + length);
    });
  }

  #walkClip(clip: Typed, placing: Placing, seen: Seen): void {
    if (this.events.length >= MOST_EVENTS) {
      this.#lose(placing.path, clip, { found: `more than ${MOST_EVENTS} clips`, expected: 'a timeline of fewer' });
      return;
    }
    const event = clipEvent(clip, placing, seen, this, (fault) => this.#lose(placing.path, clip, fault));
    if (event !== undefined) this.events.push(event);
  }

  #children(parent: Typed, path: string): readonly { readonly item: Typed; readonly path: string }[] {
    if (!Array.isArray(parent.keys['children'])) this.#lose(path, parent, { found: `a ${parent.name.toLowerCase()} without children`, expected: 'a list of children' });
    return list(parent.keys['children']).flatMap((value, index) => {
      const item = typed(value);
      const at = `${path}/${index}`;
      if (item === undefined) {
        this.#lose(at, undefined, { found: 'a child without a schema', expected: 'an object with OTIO_SCHEMA' });
        return [];
      }
      if (!isKnown(item)) this.#lose(at, item, { found: `schema ${item.name}.${item.version}`, expected: 'a schema of OpenTimelineIO 0.18; its length counts, what it shows is not known' });
      return [{ item, path: at }];
    });
  }

  /** Length in frames of the cut. Things without one take no time, and that is said. */
  #lengthOf(item: Typed, path: string, depth: number): number {
    const range = this.#spanOf(item, path);
    if (range !== undefined) return framesAt(range.duration, this.rate);
    if (item.name === 'Clip') {
      const { available } = readMedia(item);
      if (available !== undefined) return framesAt(available.duration, this.rate);
    } else if (depth <= DEEPEST && (item.name === 'Stack' || item.name === 'Track')) {
      // A deep chain is measured once a level on the way down; its own depth bounds the work.
      const inner = list(item.keys['children']).flatMap((child) => typed(child) ?? []).filter(({ name }) => name !== 'Transition');
      const lengths = inner.map((child, index) => this.#lengthOf(child, `${path}/${index}`, depth + 1));
      return item.name === 'Stack' ? lengths.reduce((most, length) => Math.max(most, length), 0) : lengths.reduce((sum, length) => sum + length, 0);
    }
    this.#lose(path, item, { found: `a ${item.name.toLowerCase()} without source_range${item.name === 'Clip' ? ' and available_range' : ''}`, expected: 'one that tells its length; it is taken for none' });
    return 0;
  }

  #spanOf(item: Typed, path: string): Span | undefined {
    const range = readSpan(item.keys['source_range']);
    if (!isFault(range)) return range;
    this.say(`${path}/source_range`, range);
    return undefined;
  }

  #seenOf(before: Typed | undefined, after: Typed | undefined): Seen {
    const offset = (transition: Typed | undefined, key: string): number => {
      if (transition?.name !== 'Transition' || transition.keys['enabled'] === false) return 0;
      const time = readTime(transition.keys[key]);
      return time === undefined || isFault(time) || time.value < 0 ? 0 : framesAt(time, this.rate);
    };
    const head = offset(before, 'in_offset');
    const tail = offset(after, 'out_offset');
    const length = head + offset(before, 'out_offset');
    return { head, tail, ...(length === 0 ? {} : { words: `${text(before?.keys['transition_type'])?.replace(/^SMPTE_/u, '').toLowerCase() ?? 'transition'} of ${length} frames at its head` }) };
  }

  #checkTransition({ keys }: Typed, path: string, before: Typed | undefined, after: Typed | undefined): void {
    for (const key of ['in_offset', 'out_offset']) {
      const time = readTime(keys[key]);
      if (time === undefined) this.say(`${path}/${key}`, { found: 'nothing', expected: 'a RationalTime' });
      else if (isFault(time)) this.say(`${path}/${key}`, time);
      else if (time.value < 0) this.say(`${path}/${key}`, { found: `${time.value} frames`, expected: '0 frames or more' });
    }
    if (before?.name === 'Transition' || after?.name === 'Transition') this.say(path, { found: 'two transitions side by side', expected: 'an item between them' });
    for (const side of [before, after]) {
      if (side?.name === 'Stack' || side?.name === 'Track') this.say(path, { found: `a transition beside a nested ${side.name.toLowerCase()}`, expected: 'a clip; the frames it needs beyond its ends are not worked out' });
    }
  }

  #readMarkers({ keys }: Typed, { path, zero }: Placing): void {
    for (const marker of list(keys['markers'])) {
      const read = readMarker(marker);
      if (read === undefined) this.say(path, { found: 'a marker that cannot be read', expected: 'a Marker with marked_range' }, 'note');
      else this.markers.push({ frame: Math.floor(zero + framesAt(read.at.start, this.rate)), text: read.text });
    }
  }
}

function placeOf(path: string): string {
  return path.length > 80 ? `${path.slice(0, 79)}…` : path;
}

function isSound({ name, keys }: Typed): boolean {
  return name === 'Track' && keys['kind'] === 'Audio';
}
