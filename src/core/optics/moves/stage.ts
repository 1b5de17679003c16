import type { Matrix, Vector } from '../matrix.ts';
import { product, transposed } from '../matrix.ts';
import type { Place } from '../projection.ts';

// A stage is measured in metres with x to the right, y ahead and z up, as in OpenTrackIO; the picture's own axes are x right, y down, z ahead.
const FROM_STAGE: Matrix = [1, 0, 0, 0, 0, -1, 0, 1, 0];

/** A place on the stage, m, as a place of a camera, mm. */
export function placeOnStage([x, y, z]: Vector): Place {
  return { xMm: x * 1000 + 0, yMm: -z * 1000 + 0, zMm: y * 1000 + 0 };
}

/** A turn in stage axes (of a camera that looks along y with z up when it is not turned) as an orientation in the picture's axes. */
export function turnOnStage(turn: Matrix): Matrix {
  return product(product(FROM_STAGE, turn), transposed(FROM_STAGE));
}
