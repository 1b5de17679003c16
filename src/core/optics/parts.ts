import type { CameraState } from './camera-state.ts';

/** What of two cameras may differ in where it puts a thing in the picture. */
export type Part = 'focalLength' | 'focus' | 'height' | 'side' | 'forward' | 'pan' | 'tilt' | 'roll';

/** Parts whose figure needs no sensor size: they scale or turn the picture about its middle. */
const ABOUT_THE_MIDDLE: readonly Part[] = ['focalLength', 'focus', 'roll'];

const WORDS: Readonly<Record<Part, string>> = {
  focalLength: 'focal length',
  focus: 'focus distance',
  height: 'camera height',
  side: 'camera position to the side',
  forward: 'camera position along its view',
  pan: 'pan',
  tilt: 'tilt',
  roll: 'roll',
};

/** Where a state keeps each part. */
const KEYS = {
  focalLength: 'focalLengthMm', focus: 'focusM', height: 'heightM', side: 'sideM', forward: 'forwardM', pan: 'panDeg', tilt: 'tiltDeg', roll: 'rollDeg',
} as const satisfies Readonly<Record<Part, keyof CameraState>>;

/** The value of a part, in the unit of its name in `CameraState`. */
export function valueOf(part: Part, state: CameraState): number | undefined {
  return state[KEYS[part]];
}

/** The state with another value of a part, in the unit of its name in `CameraState`. */
export function withValue(part: Part, state: CameraState, value: number): CameraState {
  return { ...state, [KEYS[part]]: value };
}

/** Whether some part moves the picture by a length on the sensor, so that px need the sensor's size. */
export function needSensor(parts: readonly Part[]): boolean {
  return parts.some((part) => !ABOUT_THE_MIDDLE.includes(part));
}

/** What must be on record before the parts can be counted, and is not. */
export function missingFor(parts: readonly Part[], first: CameraState, second: CameraState): readonly string[] {
  const unequal = parts.flatMap((part) => [
    ...(valueOf(part, first) === undefined ? [`${WORDS[part]} of the first pass`] : []),
    ...(valueOf(part, second) === undefined ? [`${WORDS[part]} of the second pass`] : []),
  ]);
  const needsLens = parts.includes('focus') || needSensor(parts);
  const lens = needsLens && first.focalLengthMm === undefined ? ['focal length of the first pass'] : [];
  return [...new Set([...unequal, ...lens])];
}

/** What the figures take for granted. */
export function assumptionsFor(parts: readonly Part[], first: CameraState): readonly string[] {
  const level = parts.some((part) => part === 'height' || part === 'forward') && first.tiltDeg === undefined;
  return [
    ...(parts.includes('focus') ? ['breathing as of a thin lens that moves as a whole: an estimate, real lenses may breathe less, more or the other way'] : []),
    ...(level ? ['tilt is not on record: the camera is taken to look level'] : []),
  ];
}
