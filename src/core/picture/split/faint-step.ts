import { EASY_CLEARANCE } from './line-cost.ts';
import { steepness } from '../pixels/gradient.ts';
import type { StaticLine } from './static-line.ts';
import type { Still } from './still.ts';
import { EDGE_SLACK_PX } from './still.ts';

/** A step along a line that noise hides in every single frame and the mean of all of them shows: a faint figure, or light that changed. */
export interface FaintStep {
  /** How far the passes lie apart there, codes, and the rows where, px of the proxy, `bottom` included. */
  readonly codes: number;
  readonly top: number;
  readonly bottom: number;
}

/** A step this high stays to be seen in a join, about a fourteenth of a stop near grey. Codes; common practice, no source. */
const SEEN_CODES = 3;
/** Rows and columns that are taken together. */
const [ROWS, ASIDE] = [9, 3];

/**
 * The highest step on the line or as far beside it as a soft edge reaches. `mean` is lead minus swapped at each pixel, the mean
 * over all frames. Undefined when there is none to be seen.
 */
export function faintStep({ width, height, values }: Still, mean: Float32Array, { columns, clearance }: StaticLine): FaintStep | undefined {
  const steep = steepness({ width, height, values });
  const reach = Math.floor(Math.min(clearance, EASY_CLEARANCE) / ASIDE) * ASIDE;
  let worst: FaintStep | undefined;
  for (let top = 0; top + ROWS <= height; top += 3) {
    for (let aside = -reach; aside <= reach; aside += ASIDE) {
      let [apart, slope] = [0, 0];
      for (let y = top; y < top + ROWS; y++) {
        const at = y * width + Math.min(Math.max((columns[y] ?? 0) + aside, 0), width - 1);
        apart += (mean[at] ?? 0) / ROWS;
        slope += (steep[at] ?? 0) / ROWS;
      }
      const codes = Math.abs(apart);
      if (codes > SEEN_CODES + EDGE_SLACK_PX * slope && codes > (worst?.codes ?? 0)) worst = { codes, top, bottom: top + ROWS - 1 };
    }
  }
  return worst;
}
