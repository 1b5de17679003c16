import { sameSerial } from '../material/agreement.ts';
import type { Clip } from '../material/clip.ts';
import type { Tolerance, Tolerances } from '../material/tolerance.ts';
import { scaledTo } from '../material/tolerance.ts';
import type { CameraState } from '../optics/camera-state.ts';
import type { Planes } from '../optics/planes.ts';
import { planesOf } from '../optics/planes.ts';
import type { SensorMode } from '../optics/sensor-mode.ts';
import type { Apart } from './along-take.ts';
import type { ClipPlate } from './camera-of-clip.ts';
import { cameraStateAt, cameraStateOf, distanceOf, plateOf } from './camera-of-clip.ts';
import type { MatchedPasses } from './passes.ts';
import { clipName } from './passes.ts';

/** Lead and pass as the optics need them to say what a difference costs. */
export interface PairOptics {
  readonly passes: MatchedPasses;
  /** The cameras where the two values lie apart: at that frame, else at the first frames. */
  readonly camerasAt: (apart: Pick<Apart, 'frames'>) => { readonly lead: CameraState; readonly pass: CameraState };
  /** The lead's plate: figures are px of it. Undefined without a raster. */
  readonly plate: ClipPlate | undefined;
  readonly planes: Planes;
  /** Why no px figure of this pair holds; "" when they do. */
  readonly noPx: string;
  /** The limits in px of this plate, and in stops. */
  readonly limits: { readonly shiftPx: Tolerance; readonly parallaxPx: Tolerance; readonly blurPx: Tolerance; readonly stops: Tolerance };
}

/** Worked out once for a pair, and only when something of it differs: most passes agree. */
export type OpticsOfPair = () => PairOptics;

/** Lays out the optics of a pair. */
export function opticsOf(passes: MatchedPasses, tolerances: Tolerances, sensorModes: readonly SensorMode[]): OpticsOfPair {
  let found: PairOptics | undefined;
  return () => (found ??= layOut(passes, tolerances, sensorModes));
}

function layOut(passes: MatchedPasses, tolerances: Tolerances, sensorModes: readonly SensorMode[]): PairOptics {
  const { lead, pass } = passes;
  const first = { lead: cameraStateOf(lead), pass: cameraStateOf(pass) };
  const plate = plateOf(lead, sensorModes);
  const widthPx = plate?.plate.widthPx ?? 4096;
  return {
    passes,
    camerasAt: ({ frames }) => (frames === undefined ? first : { lead: cameraStateAt(lead, frames.lead), pass: cameraStateAt(pass, frames.pass) }),
    plate,
    planes: planesOfPair(passes, first.lead),
    noPx: whyNoPx(lead, pass, plate),
    limits: {
      shiftPx: scaledTo(widthPx, tolerances.shiftPx),
      parallaxPx: scaledTo(widthPx, tolerances.parallaxPx),
      blurPx: scaledTo(widthPx, tolerances.blurPx),
      stops: tolerances.exposureStops,
    },
  };
}

function whyNoPx({ lens: a }: Clip, { lens: b }: Clip, plate: ClipPlate | undefined): string {
  if (plate === undefined) return 'the raster of the lead is not on record';
  const sameGlass = a.serial === undefined || b.serial === undefined || sameSerial(a.serial.value, b.serial.value);
  return sameGlass ? '' : 'the passes were shot with different lenses, which bend the picture differently';
}

/** The distances of the lead; what it lacks the pass of the same set-up lends it, and says so. */
function planesOfPair({ lead, pass, role }: MatchedPasses, { focusM }: CameraState): Planes {
  const subject = lent('subject distance', distanceOf(lead.position.subjectDistanceM?.value), distanceOf(pass.position.subjectDistanceM?.value), pass);
  const background = lent('background distance', distanceOf(lead.position.backgroundDistanceM?.value), distanceOf(pass.position.backgroundDistanceM?.value), pass);
  const planes = planesOf({ ...subject.as('subjectM'), ...background.as('backgroundM'), ...(focusM === undefined ? {} : { focusM }) });
  const assumptions = [...planes.assumptions, ...subject.assumptions, ...background.assumptions];
  // A performer before a screen is laid into the lead by himself: nothing behind him has to meet anything.
  return { ...planes, ...(role === 'element' && planes.nearM !== undefined ? { farM: planes.nearM } : {}), assumptions };
}

function lent(what: string, own: number | undefined, others: number | undefined, pass: Clip) {
  const metres = own ?? others;
  return {
    as: <K extends string>(key: K): Partial<Record<K, number>> => {
      const made: Partial<Record<K, number>> = {};
      if (metres !== undefined) made[key] = metres;
      return made;
    },
    assumptions: own === undefined && others !== undefined ? [`${what} of the lead is not on record: that of ${clipName(pass)} is taken`] : [],
  };
}
