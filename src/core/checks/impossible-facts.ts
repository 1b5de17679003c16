import type { Clip } from '../material/clip.ts';
import type { Filters, Raster, Stop } from '../material/statement.ts';
import type { CameraState } from '../optics/camera-state.ts';
import { refusalsOf } from '../optics/camera-state.ts';
import { distanceOf } from './camera-of-clip.ts';

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
  return FACTS.flatMap((fact) => {
    const chosen = fact.of(clip);
    const expected = chosen === undefined ? undefined : expectedOf(fact, chosen.value);
    return chosen === undefined || expected === undefined ? [] : [{ what: fact.what, raw: chosen.raw, expected, source: chosen.source }];
  });
}

/** The clip without the facts no camera can have, for whoever must set a camera by it. */
export function withoutImpossible(clip: Clip): Clip {
  const isWrong = (fact: Fact): boolean => {
    const chosen = fact.of(clip);
    return chosen !== undefined && expectedOf(fact, chosen.value) !== undefined;
  };
  return FACTS.filter(isWrong).reduce((rest, { group, key }) => ({ ...rest, [group]: Object.fromEntries(Object.entries(rest[group]).filter(([name]) => name !== key)) }), clip);
}

/** What a value of the camera's state should have been. */
export function expectedInState(key: keyof CameraState): Expected {
  return (value) => refusalsOf(key === 'iris' ? { iris: { number: value, kind: 'unknown' } } : { [key]: value })[0]?.expected;
}

interface AnyFact {
  readonly value: number | Stop | Filters | Raster;
  readonly raw: string;
  readonly source: ImpossibleFact['source'];
}

interface Fact {
  readonly what: string;
  readonly group: 'lens' | 'exposure' | 'position' | 'picture';
  readonly key: string;
  readonly of: (clip: Clip) => AnyFact | undefined;
  /** Within these any camera may be, and no more need be asked: nearly all values. */
  readonly surely: readonly [least: number, most: number];
  readonly expected: Expected;
}

const distance: Expected = (value) => (distanceOf(value) === undefined ? 'a distance above 0 m' : undefined);
const between = (least: number, most: number, words: string): Expected => (value) => (value >= least && value <= most ? undefined : words);

const FACTS: readonly Fact[] = [
  { what: 'focal length', group: 'lens', key: 'focalLengthMm', of: ({ lens }) => lens.focalLengthMm, surely: [1, 5000], expected: expectedInState('focalLengthMm') },
  { what: 'focus distance', group: 'lens', key: 'focusDistanceM', of: ({ lens }) => lens.focusDistanceM, surely: [0.1, 10_000], expected: expectedInState('focusM') },
  { what: 'stop', group: 'lens', key: 'stop', of: ({ lens }) => lens.stop, surely: [0.5, 512], expected: expectedInState('iris') },
  { what: 'neutral density', group: 'lens', key: 'filters', of: ({ lens }) => lens.filters, surely: [0, 6], expected: expectedInState('ndDensity') },
  { what: 'squeeze', group: 'lens', key: 'squeeze', of: ({ lens }) => lens.squeeze, surely: [1, 2], expected: between(0.5, 10, 'a squeeze such as 1, 1.33 or 2') },
  { what: 'shutter', group: 'exposure', key: 'shutterDeg', of: ({ exposure }) => exposure.shutterDeg, surely: [1, 360], expected: expectedInState('shutterDeg') },
  { what: 'EI', group: 'exposure', key: 'ei', of: ({ exposure }) => exposure.ei, surely: [1, 1e6], expected: expectedInState('ei') },
  { what: 'white balance', group: 'exposure', key: 'whiteBalanceK', of: ({ exposure }) => exposure.whiteBalanceK, surely: [500, 100_000], expected: between(500, 100_000, 'kelvin from 500 up') },
  { what: 'camera height', group: 'position', key: 'heightM', of: ({ position }) => position.heightM, surely: [-1000, 1000], expected: expectedInState('heightM') },
  { what: 'tilt', group: 'position', key: 'tiltDeg', of: ({ position }) => position.tiltDeg, surely: [-180, 180], expected: expectedInState('tiltDeg') },
  { what: 'roll', group: 'position', key: 'rollDeg', of: ({ position }) => position.rollDeg, surely: [-180, 180], expected: expectedInState('rollDeg') },
  { what: 'subject distance', group: 'position', key: 'subjectDistanceM', of: ({ position }) => position.subjectDistanceM, surely: [0.1, 1000], expected: distance },
  { what: 'background distance', group: 'position', key: 'backgroundDistanceM', of: ({ position }) => position.backgroundDistanceM, surely: [0.1, 1000], expected: distance },
  { what: 'raster', group: 'picture', key: 'raster', of: ({ picture }) => picture.raster, surely: [16, 20_000], expected: between(1, 1_000_000, 'a width and a height in px, each 1 or more') },
];

function expectedOf({ surely: [least, most], expected }: Fact, value: AnyFact['value']): string | undefined {
  const judge = (number: number): string | undefined => (number >= least && number <= most ? undefined : expected(number));
  if (typeof value === 'number') return judge(value);
  if ('number' in value) return judge(value.number);
  if ('width' in value) return judge(value.width) ?? judge(value.height);
  return value.ndDensity === undefined ? undefined : judge(value.ndDensity);
}
