import type { Clip } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import type { TrackField } from '../material/statement.ts';
import { limitsOf } from '../material/tolerance.ts';
import type { ChangingPart, Curve } from '../optics/along-take.ts';
import { curveOf } from '../optics/along-take.ts';
import type { CameraState } from '../optics/camera-state.ts';
import type { FrameRange } from '../timecode/range.ts';
import { trackOf } from './along-take.ts';
import { cameraStateAt, planesOfClip, plateOf } from './camera-of-clip.ts';
import type { CheckRules } from './check-rules.ts';
import type { ComparedMove, MoveRecords } from './compared-move.ts';
import { compareMove } from './compared-move.ts';
import type { LeadCase } from './lead-case.ts';
import { ratesDiffer } from './lead-case.ts';
import { checkMove } from './move.ts';
import type { MatchedPasses } from './passes.ts';

/** A lens value along both passes, and the limit its difference is held against, in the unit of the curve. */
export interface LimitedCurve {
  readonly curve: Curve;
  readonly limit: number;
}

/** What runs along a pass beside its lead: lens values that change, and the move. */
export interface PassAlong {
  readonly passes: MatchedPasses;
  readonly curves: readonly LimitedCurve[];
  readonly move?: ComparedMove;
}

/** Every pass with something to tell along the take; passes at another rate, and references, have nothing to be laid against. */
export function followPasses(cases: readonly LeadCase[], records: MoveRecords, rules: CheckRules): readonly PassAlong[] {
  return cases.flatMap(({ passes }) =>
    passes.flatMap(({ passes: pair }): readonly PassAlong[] => {
      if (pair.role === 'reference' || ratesDiffer(pair)) return [];
      const curves = lensCurves(pair, rules);
      const move = compareMove(pair, records, rules);
      return curves.length === 0 && move === undefined ? [] : [{ passes: pair, curves, ...(move === undefined ? {} : { move }) }];
    }),
  );
}

/** Findings about the moves of the passes; a clean plate whose move nobody can compare is no loss by itself. */
export function checkAlong({ move, passes }: PassAlong): readonly Finding[] {
  return move === undefined || (move.kind === 'not-compared' && passes.role === 'clean') ? [] : checkMove(move);
}

const FIELDS = [['focalLength', 'focalLength'], ['focus', 'focusDistance'], ['iris', 'stop']] as const satisfies readonly (readonly [ChangingPart, TrackField])[];

/** Lens values that both passes have along the take and that change, or differ, within the frames that matter. A sync that is a guess lays nothing under anything. */
function lensCurves(passes: MatchedPasses, { sensorModes, tolerances }: CheckRules): readonly LimitedCurve[] {
  const { lead, pass, sync } = passes;
  if (sync.method === 'assumed' || lead.tracks.length === 0 || pass.tracks.length === 0) return [];
  const worth = FIELDS.flatMap(([of, field]) => {
    const frames = sharedFrames(passes, field);
    return frames === undefined || !isWorthTelling(passes, field, frames) ? [] : [{ of, field, frames }];
  });
  const found = worth.length === 0 ? undefined : plateOf(lead, sensorModes);
  if (found === undefined) return [];
  const limits = limitsOf(tolerances, found.plate.widthPx);
  const planes = planesOfClip(lead);
  return worth.flatMap(({ of, field, frames }) => {
    const states = { first: known(lead, field, 0), second: known(pass, field, sync.offset) };
    const curve = curveOf(of, states, frames, found.plate, planes);
    return curve.points.length === 0 ? [] : [{ curve, limit: of === 'iris' ? limits.stops : of === 'focus' ? limits.blurPx : limits.shiftPx }];
  });
}

/** A frame without the value is left out, rather than taken for what stands at the start. */
function known(clip: Clip, field: TrackField, offset: number): (frame: number) => CameraState {
  const values = trackOf(clip, field)?.values ?? [];
  return (frame) => (Number.isNaN(values[frame + offset] ?? Number.NaN) ? {} : cameraStateAt(clip, frame + offset));
}

function sharedFrames({ lead, pass, sync, frames }: MatchedPasses, field: TrackField): FrameRange | undefined {
  const [a, b] = [trackOf(lead, field)?.values.length ?? 0, trackOf(pass, field)?.values.length ?? 0];
  const start = Math.max(0, frames.start, -sync.offset);
  const end = Math.min(frames.end, a, b - sync.offset);
  return end > start ? { start, end } : undefined;
}

/** Less than this is how an encoder trembles: a thousandth of the value. Assumed, no source. */
const STEADY = 0.001;

function isWorthTelling({ lead, pass, sync }: MatchedPasses, field: TrackField, { start, end }: FrameRange): boolean {
  const [a, b] = [trackOf(lead, field)?.values ?? [], trackOf(pass, field)?.values ?? []];
  let first: number | undefined;
  for (let frame = start; frame < end; frame += 1) {
    for (const value of [a[frame] ?? Number.NaN, b[frame + sync.offset] ?? Number.NaN]) {
      if (Number.isNaN(value)) continue;
      first ??= value;
      if (value !== first && !(Math.abs(value - first) <= STEADY * Math.abs(first))) return true;
    }
  }
  return false;
}
