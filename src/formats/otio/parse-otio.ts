import type { Cut, CutEvent, CutMarker } from '../../core/material/cut-event.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { frameRate, nominalBase } from '../../core/timecode/rate.ts';
import { parseJson } from './parse-json.ts';
import { isKnown, list, text, typed } from './schema.ts';
import type { Typed } from './schema.ts';
import { framesAt, isFault, readSpan, readTime } from './time.ts';
import { readMedia } from './media.ts';
import { Walk } from './walk.ts';

/** What is told with a timeline. */
export interface OtioReading {
  /** Its name, as it is shown in problems. */
  readonly file: string;
}

/** Counted where a timeline names no rate at all; it then has no clips either. */
const ANY_RATE = frameRate(24);

/**
 * Reads an OpenTimelineIO file (JSON): a timeline, or a stack, track or clip by itself. Never throws: what cannot be read is a
 * problem with its place in the tree, and the rest still counts.
 */
export function parseOtio(content: string, { file }: OtioReading): Cut {
  const nothing = (problem: ReadingProblem): Cut => ({ file, rate: ANY_RATE, format: { base: 24, drop: false }, events: [], gaps: [], skipped: 1, unread: [{ problem, markers: [], comments: [] }], problems: [problem] });
  let value: unknown;
  try {
    value = parseJson(content);
  } catch (failure) {
    const reason = failure instanceof Error ? failure.message.slice(0, 120) : 'no JSON';
    return nothing(fileProblem(file, reason, 'a timeline as OpenTimelineIO JSON'));
  }
  const found = findTimeline(value, 0);
  if (found.root === undefined) return nothing(fileProblem(file, found.instead, 'a Timeline, or a Stack, Track or Clip by itself'));
  return layOut(found.root, found.more, file);
}

interface Found {
  readonly root: Typed | undefined;
  readonly instead: string;
  /** Timelines besides the one that is read. */
  readonly more: number;
}

/** The timeline of the file; the first of a collection. */
function findTimeline(value: unknown, depth: number): Found {
  const top = typed(value);
  if (top !== undefined && top.name !== 'SerializableCollection') {
    const readable = ['Timeline', 'Stack', 'Track', 'Clip'].includes(top.name);
    return { root: readable ? top : undefined, instead: `schema ${top.name}.${top.version}`, more: 0 };
  }
  const children = Array.isArray(value) ? list(value) : list(top?.keys['children']);
  if (depth > 8) return { root: undefined, instead: 'collections nested too deep', more: 0 };
  const found = children.slice(0, 1000).map((child) => findTimeline(child, depth + 1)).filter(({ root }) => root !== undefined);
  const first = found.find(({ root }) => root?.name === 'Timeline') ?? found[0];
  return { root: first?.root, instead: top === undefined ? 'no object with OTIO_SCHEMA' : 'a collection without a timeline', more: Math.max(0, found.length - 1) };
}

function layOut(root: Typed, more: number, file: string): Cut {
  const isTimeline = root.name === 'Timeline';
  const composed = isTimeline ? typed(root.keys['tracks']) : root;
  const rate = rateOf(root, composed);
  const walk = new Walk(file, rate ?? ANY_RATE);
  if (!isKnown(root)) walk.say('', { found: `schema ${root.name}.${root.version}`, expected: 'Timeline.1; it is read as that' }, 'note');
  if (more > 0) walk.say('', { found: `${more + 1} timelines in one file`, expected: 'one; the first is read' });
  const start = readTime(root.keys['global_start_time']);
  if (isFault(start)) walk.say('global_start_time', start);
  const zero = start === undefined || isFault(start) ? 0 : framesAt(start, walk.rate);
  if (composed === undefined) walk.say('tracks', { found: 'a timeline without tracks', expected: 'a Stack of tracks' });
  else walk.walkRoot(composed, Math.round(zero));
  const title = text(root.keys['name']);
  return {
    file,
    ...(title === undefined ? {} : { title }),
    rate: walk.rate,
    format: { base: nominalBase(walk.rate), drop: false },
    events: walk.events.map((event) => withMarkers(event, walk.markers)),
    gaps: walk.gaps,
    skipped: walk.unread.length,
    ...(walk.unread.length === 0 ? {} : { unread: walk.unread }),
    problems: [...walk.problems, ...(walk.unsaid === 0 ? [] : [fileProblem(file, `${walk.unsaid} more places that cannot be read`, 'a timeline as OpenTimelineIO JSON')])],
  };
}

/** The rate the timeline counts at: that of its start, else of the first picture item that has a range. */
function rateOf(root: Typed, composed: Typed | undefined): FrameRate | undefined {
  const start = readTime(root.keys['global_start_time']);
  if (start !== undefined && !isFault(start)) return start.rate;
  const waiting: { readonly item: Typed; readonly depth: number }[] = composed === undefined ? [] : [{ item: composed, depth: 0 }];
  for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
    const { item, depth } = next;
    const range = readSpan(item.keys['source_range']) ?? (item.name === 'Clip' ? readMedia(item).available : undefined);
    if (range !== undefined && !isFault(range)) return range.duration.rate;
    const children = list(item.keys['children']).flatMap((child) => typed(child) ?? []).filter(({ keys }) => keys['kind'] !== 'Audio');
    if (depth < 100) waiting.unshift(...children.slice(0, 1000).map((child) => ({ item: child, depth: depth + 1 })));
  }
  return undefined;
}

/** Notes on the timeline and its tracks are about whatever lies below them. */
function withMarkers(event: CutEvent, markers: readonly CutMarker[]): CutEvent {
  const over = markers.filter(({ frame }) => frame >= event.record.start && frame < event.record.end);
  return over.length === 0 ? event : { ...event, markers: [...event.markers, ...over] };
}

function fileProblem(file: string, found: string, expected: string): ReadingProblem {
  return { code: 'unreadable-file', severity: 'warn', file, place: '', found, expected, remedy: 'Export the timeline again as OpenTimelineIO.' };
}
