import type { Clip } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import type { Source, TrackField } from '../material/statement.ts';
import { wordingOfImpossible } from './consequence.ts';
import { figure, readAt, sourceText } from './evidence.ts';
import type { Expected } from './impossible-facts.ts';
import { expectedInState, impossibleFacts } from './impossible-facts.ts';
import { clipName } from './passes.ts';

/** Values of a clip that no camera can have: each a finding that names the file and the place. They are left out of every comparison. */
export function checkPossible(clip: Clip): readonly Finding[] {
  const facts = impossibleFacts(clip).map((fact) => tell(clip, fact.what, fact.raw, fact.expected, [readAt(clip, fact.what, fact)]));
  return [...facts, ...checkFocusInside(clip), ...clip.tracks.flatMap(({ source, values }) => checkTrack(clip, source, values))];
}

/** Nearer than the lens is long from the sensor, nothing can be in focus, whatever the lens. */
function checkFocusInside(clip: Clip): readonly Finding[] {
  const { focalLengthMm, focusDistanceM } = clip.lens;
  if (focalLengthMm === undefined || focusDistanceM === undefined || noFocalLength(focalLengthMm.value) !== undefined) return [];
  if (!(focusDistanceM.value > 0 && focusDistanceM.value * 1000 <= focalLengthMm.value)) return [];
  const expected = `more than ${figure(focalLengthMm.value, 2)} mm from the sensor: the lens is that long`;
  return [tell(clip, 'focus distance', focusDistanceM.raw, expected, [readAt(clip, 'focus distance', focusDistanceM), readAt(clip, 'focal length', focalLengthMm)])];
}

const noFocalLength = expectedInState('focalLengthMm');

const ALONG: Readonly<Record<TrackField, readonly [what: string, expected: Expected]>> = {
  focalLength: ['focal length', expectedInState('focalLengthMm')],
  focusDistance: ['focus distance', expectedInState('focusM')],
  stop: ['stop', expectedInState('iris')],
  tilt: ['tilt', expectedInState('tiltDeg')],
  rollAngle: ['roll', expectedInState('rollDeg')],
};

/** One finding for a value along the take, at its first impossible frame. NaN there means that the frame has none. */
function checkTrack(clip: Clip, source: Source, values: Clip['tracks'][number]['values']): readonly Finding[] {
  // Object.entries forgets that its keys are the fields of a track.
  return (Object.entries(values) as readonly (readonly [TrackField, readonly number[]])[]).flatMap(([field, along]) => {
    const [what, expectedOf] = ALONG[field];
    // Frames on end hold one value as a rule: each is looked at once.
    const judged = new Map<number, string | undefined>();
    const isWrong = (value: number): boolean => {
      if (Number.isNaN(value)) return false;
      if (!judged.has(value)) judged.set(value, expectedOf(value));
      return judged.get(value) !== undefined;
    };
    const first = along.findIndex(isWrong);
    const found = along[first];
    if (found === undefined) return [];
    const count = along.filter(isWrong).length;
    return [
      tell(clip, `${what} along the take`, numberText(found), judged.get(found) ?? '', [
        `${clipName(clip)}, ${what} ${numberText(found)} at frame ${first}${count === 1 ? '' : `, and ${count - 1} more`}: ${sourceText(source)}`,
      ]),
    ];
  });
}

function numberText(value: number): string {
  return Number.isFinite(value) ? String(figure(value, 6)) : value > 0 ? 'infinity' : 'minus infinity';
}

function tell(clip: Clip, what: string, raw: string, expected: string, evidence: readonly string[]): Finding {
  return {
    code: 'unreadable-value',
    severity: 'warn',
    subject: [clip.id],
    measured: { value: raw, unit: '' },
    allowed: { value: expected, unit: '' },
    ...wordingOfImpossible(clip, what, raw, expected),
    evidence,
  };
}
