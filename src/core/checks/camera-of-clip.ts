import type { Clip } from '../material/clip.ts';
import type { TrackField } from '../material/statement.ts';
import type { CameraState, Iris } from '../optics/camera-state.ts';
import { refusalsOf } from '../optics/camera-state.ts';
import type { Planes } from '../optics/planes.ts';
import { planesOf } from '../optics/planes.ts';
import type { Plate } from '../optics/plate.ts';
import type { SensorMode } from '../optics/sensor-mode.ts';
import { findSensorArea } from '../optics/sensor-mode.ts';
import { rateAsNumber } from '../timecode/rate.ts';
import { trackOf } from './along-take.ts';
import { densityOf } from './filters.ts';

/** The camera at the first frame of a clip, as far as it is on record. Values no camera can have are left out: `checkPossible` tells them. */
export function cameraStateOf(clip: Clip): CameraState {
  return possible(stateAsRead(clip, (field) => trackOf(clip, field)?.values.find((value) => !Number.isNaN(value)), 'chosen'));
}

/** The camera at a frame of the clip, counted from 0: what changes along the take as it is there, the rest as it stands for the whole take. */
export function cameraStateAt(clip: Clip, frame: number): CameraState {
  return possible(stateAsRead(clip, (field) => numberOrAbsent(trackOf(clip, field)?.values[frame]), 'track'));
}

/** The camera at the first frame as it was read, impossible values among the rest. */
export function cameraStateAsRead(clip: Clip): CameraState {
  return stateAsRead(clip, () => undefined, 'chosen');
}

/** The plate of a clip, and what was taken for granted of its sensor and its squeeze: words that belong beside every figure resting on them. */
export interface ClipPlate {
  readonly plate: Plate;
  readonly assumptions: readonly string[];
  /** Where the size of the sensor comes from, when it is known. */
  readonly sensorFrom?: string;
}

/** The plate a clip is counted in; undefined when its raster is not on record or cannot be. */
export function plateOf({ picture, lens }: Clip, sensorModes: readonly SensorMode[]): ClipPlate | undefined {
  const raster = picture.raster?.value;
  if (raster === undefined || !(raster.width >= 1 && raster.height >= 1 && raster.width <= 1e6 && raster.height <= 1e6)) return undefined;
  const found = findSensorArea(picture.cameraModel?.value, { widthPx: raster.width, heightPx: raster.height }, sensorModes);
  const squeeze = lens.squeeze !== undefined && lens.squeeze.value >= 1 && lens.squeeze.value <= 10 ? lens.squeeze.value : 1;
  // Only a raster of the table is known to be as the sensor saw it; any other may have been unsqueezed since.
  const squeezed = squeeze === 1 || found.kind === 'known' ? [] : [`the picture is taken to lie squeezed in its raster as the lens (${squeeze} ×) left it`];
  return {
    plate: { widthPx: raster.width, heightPx: raster.height, sensor: found.area, squeeze },
    assumptions: found.kind === 'known' ? squeezed : [found.words, ...squeezed],
    ...(found.kind === 'known' ? { sensorFrom: found.from } : {}),
  };
}

/** The near and the far plane of a clip: subject and background as taped, else the subject where the lens is focused (said so). Impossible distances are left out. */
export function planesOfClip(clip: Clip): Planes {
  const [subjectM, backgroundM] = [distanceOf(clip.position.subjectDistanceM?.value), distanceOf(clip.position.backgroundDistanceM?.value)];
  // Only where nobody taped the subject does the focus stand in for it.
  const focusM = subjectM === undefined ? cameraStateOf(clip).focusM : undefined;
  return planesOf({
    ...(subjectM === undefined ? {} : { subjectM }),
    ...(backgroundM === undefined ? {} : { backgroundM }),
    ...(focusM === undefined ? {} : { focusM }),
  });
}

/** Whether a thing can lie so far from a camera, m; NaN, 0 and less come of misread papers. */
export function distanceOf(metres: number | undefined): number | undefined {
  return metres !== undefined && metres >= 0.001 && metres <= 100_000 ? metres : undefined;
}

type State = { -readonly [K in keyof CameraState]: CameraState[K] };

function stateAsRead(clip: Clip, along: (field: TrackField) => number | undefined, first: 'chosen' | 'track'): State {
  const { lens, exposure, position, sensorRate } = clip;
  const either = (chosen: number | undefined, field: TrackField): number | undefined => (first === 'chosen' ? (chosen ?? along(field)) : (along(field) ?? chosen));
  const state: State = {};
  const set = <K extends keyof State>(key: K, value: State[K] | undefined): void => {
    if (value !== undefined) state[key] = value;
  };
  set('focalLengthMm', either(lens.focalLengthMm?.value, 'focalLength'));
  set('focusM', either(lens.focusDistanceM?.value, 'focusDistance'));
  set('iris', irisOf(clip, either(lens.stop?.value.number, 'stop')));
  set('ndDensity', lens.filters === undefined ? undefined : densityOf(lens.filters.value));
  set('shutterDeg', exposure.shutterDeg?.value);
  set('sensorFps', sensorRate === undefined ? undefined : rateAsNumber(sensorRate));
  set('ei', exposure.ei?.value);
  set('heightM', position.heightM?.value);
  set('tiltDeg', either(position.tiltDeg?.value, 'tilt'));
  set('rollDeg', either(position.rollDeg?.value, 'rollAngle'));
  return state;
}

function irisOf(clip: Clip, number: number | undefined): Iris | undefined {
  if (number === undefined) return undefined;
  const chosen = clip.lens.stop?.value;
  return { number, kind: chosen?.number === number ? chosen.kind : (trackOf(clip, 'stop')?.track.stopKind ?? chosen?.kind ?? 'unknown') };
}

/** What of a state a camera can have; a focus inside the lens is left out, the lens stays. */
function possible(state: State): CameraState {
  if (refusalsOf(state).length === 0) return state;
  const entries = Object.entries(state).filter(([key, value]) => refusalsOf({ [key]: value }).length === 0);
  // Each entry keeps its key, so what was a state stays one.
  const rest: State = Object.fromEntries(entries);
  if (refusalsOf(rest).length > 0) delete rest.focusM;
  return rest;
}

function numberOrAbsent(value: number | undefined): number | undefined {
  return value === undefined || Number.isNaN(value) ? undefined : value;
}
