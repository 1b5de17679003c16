import type { ClipOptics } from '../../core/checks/clip-optics.ts';
import type { MoveMark } from '../../core/material/shot-list.ts';
import { planesOf } from '../../core/optics/planes.ts';
import type { Tolerance, ToleranceOf } from '../../core/optics/tolerance-for.ts';
import { toleranceFor } from '../../core/optics/tolerance-for.ts';
import { rateAsNumber } from '../../core/timecode/rate.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { FINE, roundedDown, toleranceWords } from './tolerance-words.ts';
import { numberWords } from './value-words.ts';

/** A mark and when it is reached, seconds from any moment. */
export interface ReachedMark {
  readonly mark: MoveMark;
  readonly seconds: number | undefined;
}

/**
 * How exactly the marks of a move must be met, in words that hold for each of them: "place 0.5 mm ◇, pan 0.022° ◇, time 0.1 frame". Place is the tightest of
 * its three directions; time is how long the move takes, at its mean speed between two marks, to be as far out. Empty when too little is on record.
 */
export function markTolerances(marks: readonly ReachedMark[], optics: ClipOptics, rate: FrameRate | undefined): string {
  const tightestOf = new Map<string, Amount>();
  const note = (name: string, amount: Amount | undefined): void => {
    const known = tightestOf.get(name);
    if (amount !== undefined && (known === undefined || amount.size < known.size)) tightestOf.set(name, amount);
  };
  marks.forEach(({ mark }, index) => {
    const at = (of: ToleranceOf, isNoted: boolean, setAt?: number): Amount | undefined => (isNoted ? amountOf(toleranceAt(of, mark, optics), setAt) : undefined);
    const isPlaced = [mark.x, mark.y, mark.z].some((value) => value !== undefined);
    const place = [at('side', isPlaced), at('height', isPlaced), at('forward', isPlaced)].filter((amount) => amount !== undefined).toSorted((a, b) => a.size - b.size)[0];
    const pan = at('pan', mark.pan !== undefined);
    note('place', place);
    note('pan', pan);
    note('tilt', at('tilt', mark.tilt !== undefined));
    note('roll', at('roll', mark.roll !== undefined));
    note('focal length', at('focalLength', mark.focalLengthMm !== undefined));
    note('focus', at('focus', mark.focusDistanceM !== undefined, mark.focusDistanceM));
    for (const seconds of [index - 1, index].flatMap((first) => legSeconds(marks[first], marks[first + 1], place?.size, pan?.size))) note('time', timeAmount(seconds, rate));
  });
  return [...tightestOf].map(([name, { text }]) => `${name} ${text}`).join(', ');
}

/** A tolerance by its size, to find the tightest, and in words. */
interface Amount {
  readonly size: number;
  readonly text: string;
}

/** The camera as it stands at the mark; the performer is where it is focused there. */
function toleranceAt(of: ToleranceOf, { focalLengthMm, focusDistanceM, tilt }: MoveMark, { camera, plate, planes, limits }: ClipOptics): Tolerance {
  if (plate === undefined || limits === undefined) return { kind: 'unknown', missing: ['raster'] };
  const there = { ...camera, ...(focalLengthMm === undefined ? {} : { focalLengthMm }), ...(focusDistanceM === undefined ? {} : { focusM: focusDistanceM }), ...(tilt === undefined ? {} : { tiltDeg: tilt }) };
  return toleranceFor(of, limits, there, plate, focusDistanceM === undefined ? planes : planesOf({ focusM: focusDistanceM }));
}

function amountOf(tolerance: Tolerance, setAt?: number): Amount | undefined {
  const words = toleranceWords(tolerance, setAt);
  if (words.kind !== 'within') return undefined;
  const text = `${words.text.replace('± ', '')}${words.fine ? ` ${FINE}` : ''}`;
  if (tolerance.kind === 'plus-minus') return { size: tolerance.amount, text };
  if (tolerance.kind !== 'range' || setAt === undefined || !Number.isFinite(setAt)) return undefined;
  return { size: Math.min(setAt - tolerance.nearestM, tolerance.farthestM === 'infinity' ? Number.POSITIVE_INFINITY : tolerance.farthestM - setAt), text };
}

/** Undefined when the move is so slow that a second makes no difference. */
function timeAmount(seconds: number, rate: FrameRate | undefined): Amount | undefined {
  if (rate === undefined || seconds > 1) return undefined;
  const frames = roundedDown(seconds * rateAsNumber(rate));
  return frames === 0 ? undefined : { size: seconds, text: `${numberWords(frames, frames >= 0.1 ? 3 : 9)} frame${frames > 1 ? 's' : ''}` };
}

/** How long the camera takes, at its mean speed between two marks, to be as far out as place and pan may be. */
function legSeconds(from: ReachedMark | undefined, to: ReachedMark | undefined, placeMm: number | undefined, panDeg: number | undefined): readonly number[] {
  if (from?.seconds === undefined || to?.seconds === undefined || !(to.seconds > from.seconds)) return [];
  const lasts = to.seconds - from.seconds;
  const apart = (key: 'x' | 'y' | 'z' | 'pan'): number => (from.mark[key] === undefined || to.mark[key] === undefined ? 0 : (to.mark[key] ?? 0) - (from.mark[key] ?? 0));
  const metres = Math.hypot(apart('x'), apart('y'), apart('z'));
  const turn = Math.abs(apart('pan'));
  return [...(placeMm === undefined || metres === 0 ? [] : [(placeMm / 1000 / metres) * lasts]), ...(panDeg === undefined || turn === 0 ? [] : [(panDeg / turn) * lasts])];
}
