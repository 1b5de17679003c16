import { distanceToMarked } from './distance.ts';
import type { FrameMasks } from './frame-masks.ts';
import { crowdCost, EASY_CLEARANCE, STEP_ASIDE } from './line-cost.ts';
import { stampRuns } from './runs.ts';
import { cheapestSeam, widestClearance } from './seam.ts';
import type { SideLimits } from './sides.ts';

/** Pixels of the proxy that a line keeps from anything blocked, whatever else: the soft rim of a figure. */
export const GUARD_PX = 2;

/** Frames that are to be joined along one line, and the raster they have. */
export interface LineTask {
  readonly width: number;
  readonly height: number;
  readonly masks: readonly FrameMasks[];
  readonly limits: readonly SideLimits[];
  /** What a line costs at each pixel (`groundCost`). */
  readonly ground: Float32Array;
}

/** A line that stays where it is, column by row; `clearance` is the best any line could keep, in proxy pixels, the guard not counted. */
export interface StaticLine {
  readonly columns: Int32Array;
  readonly clearance: number;
  /** The narrowest place of the free picture around the line: edges in proxy px (the right one excluded) and its row. */
  readonly narrowest: NarrowPlace;
}

export interface NarrowPlace {
  readonly left: number;
  readonly right: number;
  readonly row: number;
}

/** The best line through all frames of the task, or undefined when every line is blocked. */
export function findStaticLine(task: LineTask): StaticLine | undefined {
  const { width, height, masks, limits, ground } = task;
  const first = Math.max(0, ...limits.map((limit) => limit.first));
  const last = Math.min(width - 1, ...limits.map((limit) => limit.last));
  if (first > last) return undefined;
  const marked = new Uint8Array(width * height);
  for (const { blocked } of masks) stampRuns(blocked, marked, width, height);
  const clearance = distanceToMarked(marked, width, height, width / 2).map((away, i) => (i % width < first || i % width > last ? 0 : Math.max(0, away - GUARD_PX)));
  const widest = widestClearance({ width, height, values: clearance });
  if (widest === 0) return undefined;
  const wanted = Math.min(widest, EASY_CLEARANCE);
  const values = ground.map((cost, i) => ((clearance[i] ?? 0) >= wanted ? cost + crowdCost(clearance[i] ?? 0) : Infinity));
  const seam = cheapestSeam({ width, height, values }, STEP_ASIDE);
  if (seam === undefined) return undefined;
  return { columns: seam.columns, clearance: widest, narrowest: narrowestPlace(marked, width, seam.columns) };
}

/** The blur before the comparison makes a figure this much wider on each side, px of the proxy: less for a faint one, more for a bold one. */
const HALO_PX = 1;

/** Where the free stretch of a row that holds the line is shortest, the halo taken off again. */
export function narrowestPlace(marked: Uint8Array, width: number, columns: ArrayLike<number>): NarrowPlace {
  let narrowest: NarrowPlace = { left: 0, right: width, row: 0 };
  for (let row = 0; row < columns.length; row++) {
    let left = columns[row] ?? 0;
    let right = left;
    while (left > 0 && marked[row * width + left - 1] === 0) left--;
    while (right < width && marked[row * width + right] === 0) right++;
    if (left > 0) left -= HALO_PX;
    if (right < width) right += HALO_PX;
    if (right - left < narrowest.right - narrowest.left) narrowest = { left, right, row };
  }
  return narrowest;
}
