import type { Chosen, Clip, Role } from '../../src/core/material/clip.ts';
import type { Correction } from '../../src/core/material/correction.ts';
import type { GroupedDay } from '../../src/core/material/day.ts';
import type { PlateSet } from '../../src/core/material/plate-set.ts';
import type { MatchRules } from '../../src/core/matching/match-rules.ts';
import { frameRate } from '../../src/core/timecode/rate.ts';
import type { TimecodeFormat } from '../../src/core/timecode/timecode.ts';
import { parseLabel } from '../../src/core/timecode/timecode.ts';
import { makeClip, method, ROLE_WORDS, slate } from './make-clips.ts';

/** 24 labels a second. */
export const LABELS_24: TimecodeFormat = { base: 24, drop: false };

/** A value from the camera report. */
export function chosen<T>(value: T): Chosen<T> {
  return { value, raw: String(value), source: { kind: 'report', file: 'report.csv', place: 'line 2' } };
}

export interface PassFacts {
  readonly role: Role;
  readonly take: number;
  /** Label of the first frame at 24 labels a second; none when absent. */
  readonly at?: string;
  readonly setUp?: string;
  readonly over?: Partial<Clip>;
}

/**
 * A pass on camera A of an invented show, shot like all others: lens serial 4711, 35 mm, 24 fps, 3840 × 2160. Its clip number
 * is its take unless `over` says otherwise.
 */
export function pass({ role, take, at, setUp = '27B', over = {} }: PassFacts): Clip {
  const file = `A003C${String(take).padStart(3, '0')}_${setUp}.mov`;
  const { start: _start, timecodeFormat: _format, ...unclocked } = makeClip(file, {
    role,
    roll: 'A003',
    clip: `C${String(take).padStart(3, '0')}`,
    slate: slate(setUp, take),
    sensorRate: frameRate(24),
    lens: { model: chosen('Prime 35'), serial: chosen('4711'), focalLengthMm: chosen(35) },
    picture: { raster: chosen({ width: 3840, height: 2160 }) },
    ...over,
  });
  return { ...unclocked, ...(at === undefined ? {} : { start: parseLabel(at, LABELS_24), timecodeFormat: LABELS_24 }), ...over };
}

/** A plate set of the clips in the order given; its id is set-up and camera. */
export function plateSet(clips: readonly Clip[], over: Partial<PlateSet> = {}): PlateSet {
  const setUp = over.slate ?? '27B';
  return { id: `${setUp}-A`, slate: setUp, camera: 'A', method: method('split'), methodFrom: 'default', clips, ...over };
}

/** A grouped day of these sets and nothing else. */
export function groupedDay(sets: readonly PlateSet[], over: Partial<GroupedDay> = {}): GroupedDay {
  return { clips: sets.flatMap(({ clips }) => clips), sets, unplaced: [], shots: [], marks: [], findings: [], correctionsUsed: [], ...over };
}

/** Matching rules of the invented show. */
export function matchRules(over: Partial<MatchRules> = {}): MatchRules {
  return {
    ambiguityMargin: 1,
    tolerances: { focalLengthPercent: { warn: 0.1, stop: 1 } },
    corrections: [],
    minCleanFrames: 24,
    handles: { head: 8, tail: 8 },
    roleWords: ROLE_WORDS,
    ...over,
  };
}

type PairPart = { readonly lead: string; readonly clip: string };

/** A correction about a pair, decided by an invented script supervisor. */
export function pairCorrection(
  part: PairPart & ({ readonly kind: 'confirm'; readonly role?: Role } | { readonly kind: 'forbid' } | { readonly kind: 'sync'; readonly offset: number }),
): Correction {
  return { id: `${part.kind} ${part.lead} ${part.clip}`, who: 'R. Amsel, script', why: 'board misread', from: 'corrections.yaml, line 3', ...part };
}
