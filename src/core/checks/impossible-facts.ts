import type { Clip } from '../material/clip.ts';
import type { Filters, Raster, Stop } from '../material/statement.ts';
import type { CameraState } from '../optics/camera-state.ts';
import { refusalsOf } from '../optics/camera-state.ts';
import { cameraStateAsRead, distanceOf } from './camera-of-clip.ts';

/** What a value should have been; undefined when it can be. */
export type Expected = (value: number) => string | undefined;

/** A fact no camera can have. */
export interface ImpossibleFact {
  readonly what: string;
  readonly raw: string;
  readonly expected: string;
  readonly source: Clip['statements'][number]['source'];
}

/** The facts of a clip that no camera can have, each with where it was read. */
export function impossibleFacts(clip: Clip): readonly ImpossibleFact[] {
  if (isSound(clip)) return [];
  return FACTS.flatMap((fact) => {
    const expected = expectedOf(fact, clip);
    const chosen = chosenOf(fact, clip);
    return chosen === undefined || expected === undefined ? [] : [{ what: fact.what, raw: chosen.raw, expected, source: chosen.source }];
  });
}

/** Most clips: the whole camera at once, rather than value by value. */
function isSound(clip: Clip): boolean {
  return refusalsOf(cameraStateAsRead(clip)).length === 0 && OTHERS.every((fact) => expectedOf(fact, clip) === undefined);
}

/** The clip without the facts no camera can have, for whoever must set a camera by it. */
export function withoutImpossible(clip: Clip): Clip {
  if (isSound(clip)) return clip;
  const wrong = FACTS.filter((fact) => expectedOf(fact, clip) !== undefined);
  return wrong.reduce((rest, { group, key }) => ({ ...rest, [group]: Object.fromEntries(Object.entries(rest[group]).filter(([name]) => name !== key)) }), clip);
}

/** What a value of the camera's state should have been. */
export function expectedInState(key: keyof CameraState): Expected {
  return (value) => refusalsOf(key === 'iris' ? { iris: { number: value, kind: 'unknown' } } : { [key]: value })[0]?.expected;
}

interface Fact {
  readonly what: string;
  readonly group: 'lens' | 'exposure' | 'position' | 'picture';
  readonly key: string;
  readonly expected: Expected;
}

const distance: Expected = (value) => (distanceOf(value) === undefined ? 'a distance above 0 m' : undefined);
const between = (least: number, most: number, words: string): Expected => (value) => (value >= least && value <= most ? undefined : words);

const FACTS: readonly Fact[] = [
  { what: 'focal length', group: 'lens', key: 'focalLengthMm', expected: expectedInState('focalLengthMm') },
  { what: 'focus distance', group: 'lens', key: 'focusDistanceM', expected: expectedInState('focusM') },
  { what: 'stop', group: 'lens', key: 'stop', expected: expectedInState('iris') },
  { what: 'neutral density', group: 'lens', key: 'filters', expected: expectedInState('ndDensity') },
  { what: 'squeeze', group: 'lens', key: 'squeeze', expected: between(0.5, 10, 'a squeeze such as 1, 1.33 or 2') },
  { what: 'shutter', group: 'exposure', key: 'shutterDeg', expected: expectedInState('shutterDeg') },
  { what: 'EI', group: 'exposure', key: 'ei', expected: expectedInState('ei') },
  { what: 'white balance', group: 'exposure', key: 'whiteBalanceK', expected: between(500, 100_000, 'kelvin from 500 up') },
  { what: 'camera height', group: 'position', key: 'heightM', expected: expectedInState('heightM') },
  { what: 'tilt', group: 'position', key: 'tiltDeg', expected: expectedInState('tiltDeg') },
  { what: 'roll', group: 'position', key: 'rollDeg', expected: expectedInState('rollDeg') },
  { what: 'subject distance', group: 'position', key: 'subjectDistanceM', expected: distance },
  { what: 'background distance', group: 'position', key: 'backgroundDistanceM', expected: distance },
  { what: 'raster', group: 'picture', key: 'raster', expected: between(1, 1_000_000, 'a width and a height in px, each 1 or more') },
];

/** Facts that the state of a camera does not hold. */
const OTHERS = FACTS.filter(({ key }) => ['squeeze', 'whiteBalanceK', 'subjectDistanceM', 'backgroundDistanceM', 'raster', 'filters'].includes(key));

interface AnyFact {
  readonly value: number | string | Stop | Filters | Raster;
  readonly raw: string;
  readonly source: ImpossibleFact['source'];
}

function chosenOf({ group, key }: Fact, clip: Clip): AnyFact | undefined {
  const facts: Readonly<Record<string, AnyFact | undefined>> = { ...clip[group] };
  return facts[key];
}

function expectedOf(fact: Fact, clip: Clip): string | undefined {
  const value = chosenOf(fact, clip)?.value;
  return value === undefined ? undefined : numbersIn(value).map(fact.expected).find((expected) => expected !== undefined);
}

/** The numbers a fact consists of: one, as a rule. */
function numbersIn(value: AnyFact['value']): readonly number[] {
  if (typeof value === 'number') return [value];
  if (typeof value === 'string') return [];
  if ('number' in value) return [value.number];
  if ('width' in value) return [value.width, value.height];
  return value.ndDensity === undefined ? [] : [value.ndDensity];
}
