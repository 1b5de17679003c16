import type { Chosen, Clip } from '../material/clip.ts';
import type { FrameTrack, TrackField } from '../material/statement.ts';
import { readAt, sourceText } from './evidence.ts';
import type { MatchedPasses } from './passes.ts';
import { clipName } from './passes.ts';

/** A value that may change along a take, and how far two of it lie apart. */
export interface ChangingValue {
  /** Its name in evidence: "focus". */
  readonly what: string;
  readonly start: (clip: Clip) => Chosen<number> | undefined;
  readonly track?: TrackField;
  /** Zero or more, in the unit of the tolerance. NaN when the two cannot be compared. */
  readonly apart: (lead: number, pass: number) => number;
}

/** The two values where they lie furthest apart, and where they were read. */
export interface Apart {
  readonly difference: number;
  readonly lead: number;
  readonly pass: number;
  /** What was written, where one value stands for the whole take. */
  readonly written?: { readonly lead?: Chosen<number>; readonly pass?: Chosen<number> };
  /** "at frame 12 of the lead (counted from 0)"; "" when one value stands for the whole take. */
  readonly where: string;
  /** That frame of the lead and its partner in the pass, each counted from its clip's first; absent when one value stands for the whole take. */
  readonly frames?: { readonly lead: number; readonly pass: number };
  /** Put together only when there is something to tell: most passes agree. */
  readonly evidence: () => readonly string[];
}

/** A difference must hold for this many frames on end: lens data has glitches of a frame or two (assumed, no source). */
const HELD_FRAMES = 3;

/**
 * How far a value of the two passes lies apart: frame by frame under the sync when both have it along the take and the sync is
 * more than a guess, else at the first frames. Undefined when it is not on record for both.
 */
export function comparePasses(passes: MatchedPasses, value: ChangingValue): Apart | undefined {
  return compareAlong(passes, value) ?? compareStarts(passes, value);
}

function compareStarts({ lead, pass }: MatchedPasses, value: ChangingValue): Apart | undefined {
  const a = startOf(lead, value);
  const b = startOf(pass, value);
  if (a === undefined || b === undefined) return undefined;
  const difference = value.apart(a.number, b.number);
  if (!Number.isFinite(difference)) return undefined;
  const changes = trackOf(lead, value.track) !== undefined || trackOf(pass, value.track) !== undefined;
  const partly = `${value.what}: only the first frames compared, though it is on record along a take`;
  return {
    difference,
    lead: a.number,
    pass: b.number,
    written: { ...(a.chosen === undefined ? {} : { lead: a.chosen }), ...(b.chosen === undefined ? {} : { pass: b.chosen }) },
    where: changes ? 'at the first frame' : '',
    evidence: () => [a.evidence(), b.evidence(), ...(changes ? [partly] : [])],
  };
}

/** The value at the first frame: as chosen among the sources, else the first that is on record along the take. */
function startOf(clip: Clip, { what, start, track }: ChangingValue): { number: number; chosen?: Chosen<number>; evidence: () => string } | undefined {
  const chosen = start(clip);
  if (chosen !== undefined) return { number: chosen.value, chosen, evidence: () => readAt(clip, what, chosen) };
  const along = trackOf(clip, track);
  const first = along?.values.find((value) => !Number.isNaN(value));
  if (along === undefined || first === undefined) return undefined;
  return { number: first, evidence: () => `${clipName(clip)}, ${what} along the take: ${sourceText(along.track.source)}` };
}

function compareAlong(passes: MatchedPasses, value: ChangingValue): Apart | undefined {
  if (passes.sync.method === 'assumed') return undefined;
  const lead = trackOf(passes.lead, value.track);
  const pass = trackOf(passes.pass, value.track);
  if (lead === undefined || pass === undefined) return undefined;
  const worst = worstHeld(passes, (frame) =>
    value.apart(lead.values[frame] ?? Number.NaN, pass.values[frame + passes.sync.offset] ?? Number.NaN),
  );
  if (worst === undefined) return undefined;
  const partner = worst.frame + passes.sync.offset;
  return {
    difference: worst.difference,
    lead: lead.values[worst.frame] ?? Number.NaN,
    pass: pass.values[partner] ?? Number.NaN,
    where: `at frame ${worst.frame} of the lead (counted from 0)`,
    frames: { lead: worst.frame, pass: partner },
    evidence: () => [
      `${clipName(passes.lead)}, ${value.what} at frame ${worst.frame}: ${sourceText(lead.track.source)}`,
      `${clipName(passes.pass)}, ${value.what} at frame ${partner}: ${sourceText(pass.track.source)}`,
    ],
  };
}

/** The largest difference that holds for some frames on end, and the first frame on which it is that small or larger. */
function worstHeld({ frames }: MatchedPasses, apartAt: (frame: number) => number): { frame: number; difference: number } | undefined {
  let worst: { frame: number; difference: number } | undefined;
  const recent: { frame: number; difference: number }[] = [];
  for (let frame = Math.max(0, frames.start); frame < frames.end; frame += 1) {
    const difference = apartAt(frame);
    if (!Number.isFinite(difference)) continue;
    recent.push({ frame, difference });
    if (recent.length > HELD_FRAMES) recent.shift();
    const held = recent.reduce((least, one) => (one.difference < least.difference ? one : least));
    if (recent.length === HELD_FRAMES && (worst === undefined || held.difference > worst.difference)) worst = held;
  }
  // Too few frames in common to hold anything: the largest difference among them.
  return worst ?? recent.toSorted((a, b) => b.difference - a.difference)[0];
}

/** The first track of a clip that has this value at any frame. */
export function trackOf(clip: Clip, field: TrackField | undefined): { track: FrameTrack; values: readonly number[] } | undefined {
  if (field === undefined) return undefined;
  for (const track of clip.tracks) {
    const values = track.values[field];
    if (values?.some((value) => !Number.isNaN(value)) === true) return { track, values };
  }
  return undefined;
}
