import type { Clip } from '../material/clip.ts';
import type { Tolerances } from '../material/tolerance.ts';
import { limitsOf } from '../material/tolerance.ts';
import type { CameraState } from '../optics/camera-state.ts';
import { refusalsOf } from '../optics/camera-state.ts';
import type { Refusal } from '../optics/impossible.ts';
import type { LensFigures } from '../optics/lens-figures.ts';
import { CUSTOMARY_CIRCLE_MM, lensFigures } from '../optics/lens-figures.ts';
import type { Limits } from '../optics/limits.ts';
import type { Planes } from '../optics/planes.ts';
import type { Plate } from '../optics/plate.ts';
import { pixelPitch } from '../optics/plate.ts';
import type { SensorMode } from '../optics/sensor-mode.ts';
import type { Tolerance, ToleranceOf } from '../optics/tolerance-for.ts';
import { toleranceBox } from '../optics/tolerance-for.ts';
import { cameraStateAsRead, cameraStateOf, planesOfClip, plateOf } from './camera-of-clip.ts';

/** What figures of a clip rest on besides the clip. */
export interface OpticsSettings {
  readonly sensorModes: readonly SensorMode[];
  /** How far a join may be out on a plate of this width. */
  readonly limitsOf: (widthPx: number) => Limits;
  /** The disc that still counts as a point, mm; the customary one when absent. */
  readonly circleMm?: number;
}

/** The settings of a pipeline. */
export function opticsSettings({ sensorModes, tolerances }: { readonly sensorModes: readonly SensorMode[]; readonly tolerances: Tolerances }): OpticsSettings {
  return { sensorModes, limitsOf: (widthPx) => limitsOf(tolerances, widthPx) };
}

/** How far one setting of a clip may be out. */
export interface BoxEntry {
  readonly of: ToleranceOf;
  readonly tolerance: Tolerance;
}

/** What the values of one clip come to: what the lens sees, where it is sharp, and how exactly each setting must be met again. */
export interface ClipOptics {
  readonly camera: CameraState;
  /** Absent when the raster is not on record; nothing is then said in px. */
  readonly plate?: Plate;
  readonly sensorFrom?: string;
  readonly planes: Planes;
  readonly circleMm: number;
  /** The circle in px of the plate. */
  readonly circlePx?: number;
  readonly figures: LensFigures;
  readonly limits?: Limits;
  readonly box: readonly BoxEntry[];
  /** What was taken for granted, for the figures and for the box. */
  readonly assumptions: readonly string[];
  /** Values as read that no camera can have; nothing rests on them. */
  readonly refusals: readonly Refusal[];
}

/** The optics of a clip at its first frame, everything alone: no second pass is needed. Never throws for values of the clip. */
export function clipOptics(clip: Clip, settings: OpticsSettings): ClipOptics {
  const camera = cameraStateOf(clip);
  const planes = planesOfClip(clip);
  const circleMm = settings.circleMm ?? CUSTOMARY_CIRCLE_MM;
  const found = plateOf(clip, settings.sensorModes);
  const figures = lensFigures(camera, found?.plate, circleMm);
  const limits = found === undefined ? undefined : settings.limitsOf(found.plate.widthPx);
  const box = found === undefined || limits === undefined ? [] : toleranceBox(limits, camera, found.plate, planes);
  return {
    camera, planes, circleMm, figures, box,
    ...(found === undefined ? {} : { plate: found.plate, circlePx: circleMm / pixelPitch(found.plate) }),
    ...(found?.sensorFrom === undefined ? {} : { sensorFrom: found.sensorFrom }),
    ...(limits === undefined ? {} : { limits }),
    assumptions: [...new Set([...(found?.assumptions ?? []), ...figures.assumptions, ...box.flatMap(({ tolerance }) => assumptionsOf(tolerance))])],
    refusals: [...refusalsOf(cameraStateAsRead(clip)), ...figures.refusals],
  };
}

function assumptionsOf(tolerance: Tolerance): readonly string[] {
  return tolerance.kind === 'plus-minus' || tolerance.kind === 'range' ? tolerance.assumptions : [];
}
