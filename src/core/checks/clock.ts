import type { Clip, ClipId } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import type { PlateSet } from '../material/plate-set.ts';
import { compareCounters } from '../matching/recording.ts';
import { framesPerLabel } from '../timecode/half-rate.ts';
import { rateAsNumber } from '../timecode/rate.ts';
import type { Timecode } from '../timecode/timecode.ts';
import { formatTimecode, framesPerDay, shiftTimecode } from '../timecode/timecode.ts';
import { clipName } from './passes.ts';
import { raise } from './raise.ts';
import { compareText } from './severity.ts';

/** Which plate set a clip is in. */
export type SetOf = (clip: ClipId) => PlateSet | undefined;

/**
 * The timecode of each camera must run on: no two clips at once, none earlier than the one recorded before it. Cameras, shooting
 * dates and ways of counting are never mixed. Sorting is the dearest part.
 */
export function checkClock(clips: readonly Clip[], setOf: SetOf): readonly Finding[] {
  const findings: Finding[] = [];
  for (const recorded of onOneClock(clips).values()) {
    const overlaps = findOverlaps(recorded, setOf);
    const overlapping = new Set(overlaps.map(({ earlier, later }) => pairKey(earlier, later)));
    findings.push(...overlaps.map(raiseOverlap));
    findings.push(...findBackwards(recorded, setOf, overlapping));
  }
  return findings;
}

interface Recorded {
  readonly clip: Clip;
  readonly start: Timecode;
  /** Labels it takes up. */
  readonly labels: number;
}

/** Clips by camera, date and way of counting; those without camera letter or timecode are on no clock that is known. */
function onOneClock(clips: readonly Clip[]): ReadonlyMap<string, readonly Recorded[]> {
  const clocks = new Map<string, Recorded[]>();
  for (const clip of clips) {
    const { start, camera, frames } = clip;
    if (!clip.usable || start === undefined || camera === undefined || frames === undefined) continue;
    const key = [camera, clip.date ?? '', start.format.base, start.format.drop].join(' ');
    const recorded = { clip, start, labels: frames / perLabel(clip, start) };
    const clock = clocks.get(key);
    if (clock === undefined) clocks.set(key, [recorded]);
    else clock.push(recorded);
  }
  return clocks;
}

/** One where rate and labels do not fit each other: the fault is elsewhere. */
function perLabel({ rate }: Clip, { format }: Timecode): number {
  return (rate === undefined ? undefined : framesPerLabel(rate, format)) ?? 1;
}

interface Overlap {
  readonly earlier: Clip;
  readonly later: Clip;
  readonly laterStart: Timecode;
  readonly labels: number;
  /** The earlier clip ran fast and by the clock had ended: its labels ran ahead. */
  readonly highSpeed: boolean;
}

/** A stretch of the dial of one day: `start` may lie before midnight as a negative number. */
interface Stretch extends Recorded {
  readonly from: number;
  readonly to: number;
}

/** Each clip against the one before it that reaches furthest, and against the furthest of another set: enough to find every wrong clip. */
function findOverlaps(recorded: readonly Recorded[], setOf: SetOf): readonly Overlap[] {
  const stretches = recorded.flatMap(stretchesOf).sort((a, b) => a.from - b.from || compareText(a.clip.id, b.clip.id));
  const found = new Map<string, Overlap>();
  let furthest: Stretch | undefined;
  let furthestElsewhere: Stretch | undefined;
  for (const stretch of stretches) {
    for (const overlap of [overlapOf(furthest, stretch, setOf), overlapOf(furthestElsewhere, stretch, setOf)]) {
      if (overlap !== undefined) found.set(pairKey(overlap.earlier, overlap.later), overlap);
    }
    const sameSet = furthest !== undefined && setOf(furthest.clip.id)?.id === setOf(stretch.clip.id)?.id;
    if (furthest === undefined || stretch.to > furthest.to) {
      if (!sameSet) furthestElsewhere = furthest;
      furthest = stretch;
    } else if (!sameSet && (furthestElsewhere === undefined || stretch.to > furthestElsewhere.to)) furthestElsewhere = stretch;
  }
  return [...found.values()];
}

/** A clip over midnight lies at both ends of the dial. */
function stretchesOf(recorded: Recorded): readonly Stretch[] {
  const day = framesPerDay(recorded.start.format);
  const from = ((recorded.start.frame % day) + day) % day;
  const to = from + recorded.labels;
  const stretch = { ...recorded, from, to };
  return to > day ? [stretch, { ...recorded, from: from - day, to: to - day }] : [stretch];
}

function overlapOf(earlier: Stretch | undefined, later: Stretch, setOf: SetOf): Overlap | undefined {
  if (earlier === undefined || later.from >= earlier.to || earlier.clip.id === later.clip.id) return undefined;
  if (isOnPurpose(earlier, later, setOf)) return undefined;
  const byClock = earlier.from + earlier.labels * clockShare(earlier.clip);
  return {
    earlier: earlier.clip,
    later: later.clip,
    laterStart: later.start,
    labels: Math.min(earlier.to, later.to) - later.from,
    highSpeed: later.from >= byClock,
  };
}

/** A sensor at 96 on a 24 fps file fills four seconds of labels in one second of the clock. */
function clockShare({ rate, sensorRate }: Clip): number {
  return rate === undefined || sensorRate === undefined ? 1 : Math.min(1, rateAsNumber(rate) / rateAsNumber(sensorRate));
}

/** Passes of one set whose method repeats a move, whose notes say that timecode was repeated, or whose starts agree to the frame. */
function isOnPurpose(a: Recorded, b: Recorded, setOf: SetOf): boolean {
  const set = setOf(a.clip.id);
  if (set === undefined || set.id !== setOf(b.clip.id)?.id) return false;
  return a.start.frame === b.start.frame || set.method.repeatedMove || saysSo(a.clip) || saysSo(b.clip);
}

/** Words by which crews note that timecode was repeated (common practice, no source). */
const REPEATED = /\b(?:moco|motion[ -]control|play-?back|repeat(?:ed)? move|trigger(?:ed)?|same (?:tc|timecode)|equal (?:tc|timecode))\b/i;

function saysSo({ notes }: Clip): boolean {
  return notes.some((note) => REPEATED.test(note));
}

function raiseOverlap({ earlier, later, laterStart, labels, highSpeed }: Overlap): Finding {
  return raise({
    code: 'timecode-overlap',
    severity: highSpeed ? 'note' : 'warn',
    subject: [earlier, later],
    earlier,
    later,
    highSpeed,
    measured: { value: Math.ceil(labels), unit: 'frames' },
    allowed: { value: 0, unit: 'frames' },
    evidence: [`${spanText(earlier)}`, `${clipName(later)} starts at ${formatTimecode(laterStart)}`],
  });
}

function spanText(clip: Clip): string {
  const { start, frames = 0 } = clip;
  if (start === undefined) return clipName(clip);
  const lastLabel = Math.max(0, Math.ceil(frames / perLabel(clip, start)) - 1);
  return `${clipName(clip)} runs from ${formatTimecode(start)} to ${formatTimecode(shiftTimecode(start, lastLabel))}, both in`;
}

/** In the order of roll and clip number, timecode may only grow; a step of less than half a day forward may pass midnight. */
function findBackwards(recorded: readonly Recorded[], setOf: SetOf, overlapping: ReadonlySet<string>): readonly Finding[] {
  const counted = recorded.filter(({ clip }) => clip.clip !== undefined && !isOffTheClock(clip, setOf));
  counted.sort((a, b) => compareCounters(a.clip, b.clip));
  return counted.flatMap((later, place) => {
    const earlier = counted[place - 1];
    if (earlier === undefined || overlapping.has(pairKey(earlier.clip, later.clip))) return [];
    const day = framesPerDay(later.start.format);
    const forward = (((later.start.frame - earlier.start.frame) % day) + day) % day;
    if (forward < day / 2 || isOnPurpose(earlier, later, setOf)) return [];
    return [
      raise({
        code: 'timecode-backwards',
        severity: 'warn',
        subject: [earlier.clip, later.clip],
        earlier: earlier.clip,
        later: later.clip,
        highSpeed: false,
        measured: { value: day - forward, unit: 'frames' },
        allowed: { value: 0, unit: 'frames' },
        evidence: [`${clipName(earlier.clip)} starts at ${formatTimecode(earlier.start)}`, `${clipName(later.clip)} starts at ${formatTimecode(later.start)}`],
      }),
    ];
  });
}

/** A motion control rig gives its own timecode, so such a clip says nothing of the clock before or after it. */
function isOffTheClock(clip: Clip, setOf: SetOf): boolean {
  return setOf(clip.id)?.method.repeatedMove === true || saysSo(clip);
}

function pairKey(a: Clip, b: Clip): string {
  return a.id < b.id ? `${a.id}\u0000${b.id}` : `${b.id}\u0000${a.id}`;
}
