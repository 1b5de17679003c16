import type { CheckRules } from '../../src/core/checks/check-rules.ts';
import type { Chosen, Clip, Role } from '../../src/core/material/clip.ts';
import type { GroupedDay, MatchedDay } from '../../src/core/material/day.ts';
import type { Method } from '../../src/core/material/method.ts';
import type { LeadMatch, MatchedSet, PassMatch, PlateSet, Sync } from '../../src/core/material/plate-set.ts';
import type { SourceKind } from '../../src/core/material/statement.ts';
import { frameRate } from '../../src/core/timecode/rate.ts';
import { makeClip, method, slate } from './make-clips.ts';

/** A value as a report gives it. */
export function chosen<T>(value: T, raw = String(value), kind: SourceKind = 'report'): Chosen<T> {
  return { value, raw, source: { kind, file: 'report.csv', place: `line 2, column ${raw}` } };
}

/** One frame a second past the last: a minute between clips at 24 frames a second. */
const BETWEEN_CLIPS = 24 * 120;

/** A clip with everything on record, clip `number` of roll A003, recorded two minutes after the one before. */
export function makeFullClip(number: number, role: Role, over: Partial<Clip> = {}): Clip {
  const name = `C${String(number).padStart(3, '0')}`;
  const format = { base: 24, drop: false };
  return makeClip(`A003/A003${name}_261125_R7QK.mov`, {
    role,
    roll: 'A003',
    clip: name,
    slate: slate('27B', number),
    start: { frame: 864_000 + number * BETWEEN_CLIPS, format },
    frames: role === 'clean' ? 48 : 240,
    sensorRate: frameRate(24),
    lens: {
      model: chosen('Calder Prime 35'),
      serial: chosen('CP-3507'),
      focalLengthMm: chosen(35),
      focusDistanceM: chosen(3),
      stop: chosen({ kind: 'T' as const, number: 2.8 }, 'T2.8'),
      filters: chosen({ text: 'ND.6', ndDensity: 0.6 }, 'ND.6'),
      squeeze: chosen(1),
    },
    exposure: { shutterDeg: chosen(180), ei: chosen(800), whiteBalanceK: chosen(5600) },
    position: {
      heightM: chosen(1.5),
      tiltDeg: chosen(-2),
      rollDeg: chosen(0),
      subjectDistanceM: chosen(3),
      backgroundDistanceM: chosen(6),
    },
    picture: {
      raster: chosen({ width: 4096, height: 2160 }, '4096 x 2160', 'embedded'),
      codec: chosen('Wavelet 4444', 'Wavelet 4444', 'embedded'),
      cameraModel: chosen('Orlop S1', 'Orlop S1', 'embedded'),
      cameraSerial: chosen('1207', '1207', 'embedded'),
    },
    ...over,
  });
}

/** A stated sync: head to head, on a mark both passes share. */
export const SYNCED: Sync = { method: 'sync-mark', offset: 0, confidence: 0.8, words: 'mark "sync" in both' };
export const ASSUMED: Sync = { method: 'assumed', offset: 0, confidence: 0.2, words: 'nothing tells: assumed head to head' };

/** A pass chosen for a lead, without a rival. */
export function makeMatch(clip: Clip, over: Partial<PassMatch> = {}): PassMatch {
  return { clip: clip.id, role: clip.role, sync: SYNCED, cost: 0, terms: [], confirmed: false, ...over };
}

/** A lead with the passes given, each by its role. */
export function makeLeadMatch(lead: Clip, passes: readonly Clip[], over: Readonly<Record<string, Partial<PassMatch>>> = {}): LeadMatch {
  const of = (role: Role): readonly PassMatch[] => passes.filter((pass) => pass.role === role).map((pass) => makeMatch(pass, over[role] ?? {}));
  const [swapped] = of('swapped');
  const [clean] = of('clean');
  return {
    lead: lead.id,
    ...(swapped === undefined ? {} : { swapped }),
    ...(clean === undefined ? {} : { clean }),
    elements: of('element'),
    references: of('reference'),
  };
}

export interface SetPlan {
  readonly id?: string;
  readonly slate?: string;
  readonly method?: Partial<Method>;
  readonly clips: readonly Clip[];
  readonly matches?: readonly LeadMatch[];
  readonly proposed?: MatchedSet['proposed'];
  readonly leftOver?: MatchedSet['leftOver'];
  /** What is said of the matches, by role: a sync, a runner-up. */
  readonly match?: Readonly<Record<string, Partial<PassMatch>>>;
}

/** A matched set: without `matches`, every usable lead has every other usable clip, first of its role. */
export function makeSet(plan: SetPlan): MatchedSet {
  const clips = plan.clips;
  const usable = clips.filter((clip) => clip.usable);
  const set: PlateSet = {
    id: plan.id ?? `${plan.slate ?? '27B'}-A`,
    slate: plan.slate ?? '27B',
    camera: 'A',
    method: method(plan.method?.name ?? 'split', plan.method),
    methodFrom: 'default',
    clips,
  };
  const leads = usable.filter(({ role }) => role === 'lead');
  const others = usable.filter(({ role }) => role !== 'lead' && role !== 'unknown');
  return {
    set,
    matches: plan.matches ?? leads.map((lead) => makeLeadMatch(lead, others, plan.match)),
    proposed: plan.proposed ?? [],
    leftOver: plan.leftOver ?? [],
  };
}

/** A day of such sets. */
export function makeMatchedDay(sets: readonly MatchedSet[], over: Partial<GroupedDay> = {}): MatchedDay {
  const clips = [...sets.flatMap(({ set }) => set.clips), ...(over.clips ?? [])];
  const grouped: GroupedDay = {
    sets: sets.map(({ set }) => set),
    unplaced: [],
    shots: [],
    marks: [],
    findings: [],
    correctionsUsed: [],
    ...over,
    clips,
  };
  return { grouped, sets };
}

/** Rules with the default tolerances (common practice, no source). */
export function checkRules(over: Partial<CheckRules> = {}): CheckRules {
  return {
    handles: { head: 8, tail: 8 },
    minCleanFrames: 24,
    ambiguityMargin: 1,
    corrections: [],
    baseRate: undefined,
    sensorModes: [],
    tolerances: {
      shiftPx: { warn: 2, stop: 100 },
      parallaxPx: { warn: 1, stop: 2 },
      blurPx: { warn: 1, stop: 8 },
      exposureStops: { warn: 0.1, stop: 1 },
      focalLengthPercent: { warn: 0.05, stop: 2 },
      focusDioptre: { warn: 0.01, stop: 0.1 },
      stopStops: { warn: 0.1, stop: 1 },
      ndStops: { warn: 0.1, stop: 1 },
      shutterDeg: { warn: 0.5, stop: 10 },
      eiStops: { warn: 0.1, stop: 1 },
      whiteBalanceK: { warn: 100, stop: 1000 },
      heightMm: { warn: 2, stop: 30 },
      tiltDeg: { warn: 0.01, stop: 1 },
      rollDeg: { warn: 0.01, stop: 1 },
      distanceMm: { warn: 10, stop: 100 },
      sourcesPercent: 2,
      lengthFrames: 1,
    },
    ...over,
  };
}
