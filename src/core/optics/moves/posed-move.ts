import type { Plate } from '../plate.ts';
import { focalPixels } from '../plate.ts';
import type { FocalPixels, Place } from '../projection.ts';
import type { Move, MoveSample } from './move.ts';
import type { Quaternion } from './quaternion.ts';
import { between, matrixOf } from './quaternion.ts';

/** One frame of a move, ready to be projected: the entrance pupil's place, the turn, the focal length in px. */
export interface Posed extends Place, Quaternion, FocalPixels {
  readonly frame: number;
}

/** Between samples farther apart than this nothing is filled in: what the camera did there is not on record. */
export const LONGEST_GAP_FRAMES = 3;

/**
 * The samples of a move that have all it takes; those with numbers no camera can have are left out. `pupils` puts the place at the entrance pupil;
 * `focalLengthMm` stands in where a sample has none.
 */
export function poseMove({ samples }: Move, plate: Plate, pupils: boolean, focalLengthMm: number | undefined): readonly Posed[] {
  const perMm = focalPixels(plate, 1);
  const poses: Posed[] = [];
  for (const sample of samples) {
    const focal = sample.focalLengthMm ?? focalLengthMm;
    if (focal === undefined || !isSound(sample) || !(focal >= 0.1 && focal <= 100_000)) continue;
    const { frame, qw, qx, qy, qz } = sample;
    const { xMm, yMm, zMm } = pupils ? pupilOf(sample) : sample;
    poses.push({ frame, qw, qx, qy, qz, xMm, yMm, zMm, focalX: focal * perMm.focalX, focalY: focal * perMm.focalY });
  }
  return poses;
}

/** Whether a sample is a place and a turn: finite, within 1000 km, of unit length. */
export function isSound({ frame, xMm, yMm, zMm, qw, qx, qy, qz, entrancePupilMm = 0 }: MoveSample): boolean {
  const length = qw * qw + qx * qx + qy * qy + qz * qz;
  return Number.isSafeInteger(frame) && Math.abs(xMm) + Math.abs(yMm) + Math.abs(zMm) + Math.abs(entrancePupilMm) <= 1e9 && Math.abs(length - 1) < 1e-6;
}

function pupilOf(sample: MoveSample): Place {
  const { xMm, yMm, zMm, entrancePupilMm = 0 } = sample;
  const m = matrixOf(sample);
  return { xMm: xMm + m[2] * entrancePupilMm, yMm: yMm + m[5] * entrancePupilMm, zMm: zMm + m[8] * entrancePupilMm };
}

/** The pose at a frame, between two samples if need be; undefined outside the move and in a hole of it. */
export function poseAt(poses: readonly Posed[], frame: number): Posed | undefined {
  const index = lastAtOrBefore(poses, frame);
  const before = poses[index];
  if (before === undefined || before.frame === frame) return before;
  const after = poses[index + 1];
  if (after === undefined || after.frame - before.frame > LONGEST_GAP_FRAMES) return undefined;
  const share = (frame - before.frame) / (after.frame - before.frame);
  const mix = (a: number, b: number): number => a + (b - a) * share;
  const { qw, qx, qy, qz } = between(before, after, share);
  return {
    frame, qw, qx, qy, qz,
    xMm: mix(before.xMm, after.xMm), yMm: mix(before.yMm, after.yMm), zMm: mix(before.zMm, after.zMm),
    focalX: mix(before.focalX, after.focalX), focalY: mix(before.focalY, after.focalY),
  };
}

/** −1 when all lie after. Most moves lack no frame, so the guess is right and no search is needed. */
function lastAtOrBefore(poses: readonly Posed[], frame: number): number {
  const start = poses[0]?.frame ?? Number.POSITIVE_INFINITY;
  if (frame < start) return -1;
  const guess = Math.floor(frame) - start;
  if (poses[guess]?.frame === Math.floor(frame)) return guess;
  let low = 0;
  let high = poses.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((poses[middle]?.frame ?? Number.POSITIVE_INFINITY) <= frame) low = middle;
    else high = middle;
  }
  return low;
}
