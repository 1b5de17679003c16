import { distanceToMarked } from './distance.ts';
import { crowdCost, EASY_CLEARANCE, STEP_ASIDE } from './line-cost.ts';
import { stampRuns } from './runs.ts';
import type { LineTask, NarrowPlace } from './static-line.ts';
import { GUARD_PX, narrowestPlace } from './static-line.ts';
import type { SurfaceRules } from './surface.ts';
import { leftmostSurface, widestSurface } from './surface.ts';

/** A line that moves: the columns of frame `t` (the t-th of the task) are `columns[t * height + row]`. */
export interface MovingLine {
  readonly columns: Int16Array;
  /** The best clearance any moving line could keep throughout, whole proxy px, the guard not counted. */
  readonly clearance: number;
  readonly narrowest: NarrowPlace & { readonly index: number };
}

/** At most this far aside from row to row, and from frame to frame: a join that jumps is seen. Proxy px. */
const STEP_ROW = 1;
const STEP_FRAME = 2;
/** Clearances beyond this are all alike. */
const FAR_PX = 62;
const SWEEPS = 3;

/** The line with the widest moving corridor through all frames, or undefined when there is none. */
export function findMovingLine(task: LineTask, clearances = clearancesOf(task)): MovingLine | undefined {
  const { width, height, masks } = task;
  const rules = rulesOf(task, clearances, 0, masks.length);
  const widest = widestSurface(rules, FAR_PX);
  if (widest === undefined) return undefined;
  const columns = widest.leftmost;
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    for (let i = 0; i < masks.length; i++) easeFrame(sweep % 2 === 0 ? i : masks.length - 1 - i, { task, clearances, columns, least: Math.min(widest.radius, EASY_CLEARANCE) });
  }
  let narrowest = { left: 0, right: width, row: 0, index: 0 };
  masks.forEach(({ blocked }, index) => {
    const marked = new Uint8Array(width * height);
    stampRuns(blocked, marked, width, height);
    const place = narrowestPlace(marked, width, columns.subarray(index * height, (index + 1) * height));
    if (place.right - place.left < narrowest.right - narrowest.left) narrowest = { ...place, index };
  });
  return { columns, clearance: widest.radius, narrowest };
}

/** How far from anything blocked each pixel of each frame lies beyond the guard, rounded up: above a whole radius r exactly when the distance is. */
export function clearancesOf({ width, height, masks }: Pick<LineTask, 'width' | 'height' | 'masks'>): readonly Uint8Array[] {
  const marked = new Uint8Array(width * height);
  const away = new Float32Array(width * height);
  return masks.map(({ blocked }) => {
    marked.fill(0);
    stampRuns(blocked, marked, width, height);
    distanceToMarked(marked, width, height, FAR_PX + GUARD_PX + 1, away);
    const out = new Uint8Array(away.length);
    for (let i = 0; i < out.length; i++) out[i] = Math.max(0, Math.ceil((away[i] ?? 0) - GUARD_PX));
    return out;
  });
}

/** How many frames from `start` on can be joined by one moving line: the most, by bisection. */
export function movableFrames(task: LineTask, clearances: readonly Uint8Array[], start: number): number {
  let good = 0;
  let bad = task.masks.length - start + 1;
  while (bad - good > 1) {
    const middle = (good + bad) >> 1;
    if (leftmostSurface(rulesOf(task, clearances, start, start + middle), 0) === undefined) bad = middle;
    else good = middle;
  }
  return good;
}

function rulesOf({ width, height, limits }: LineTask, clearances: readonly Uint8Array[], from: number, to: number): SurfaceRules {
  const some = limits.slice(from, to);
  return {
    width, height, frames: to - from, stepRow: STEP_ROW, stepFrame: STEP_FRAME,
    first: some.map(({ first }) => first),
    last: some.map(({ last }) => last),
    clearance: (t) => clearances[from + t] ?? [],
  };
}

interface Easing {
  readonly task: LineTask;
  readonly clearances: readonly Uint8Array[];
  readonly columns: Int16Array;
  readonly least: number;
}

/** The cheapest line of one frame among those within reach of both neighbours, written in place of the one that was there. */
function easeFrame(t: number, { task, clearances, columns, least }: Easing): void {
  const { width, height, limits, ground } = task;
  const plane = clearances[t] ?? new Uint8Array(0);
  const here = columns.subarray(t * height, (t + 1) * height);
  const beside = [columns.subarray((t - 1) * height, t * height), columns.subarray((t + 1) * height, (t + 2) * height)].filter((_, i) => (i === 0 ? t > 0 : t + 1 < columns.length / height));
  const reach = 2 * STEP_FRAME + 1;
  const from = here.map((x, y) => Math.max(limits[t]?.first ?? 0, ...beside.map((near) => (near[y] ?? 0) - STEP_FRAME), beside.length === 0 ? x - STEP_FRAME : 0));
  const to = here.map((x, y) => Math.min(limits[t]?.last ?? 0, ...beside.map((near) => (near[y] ?? 0) + STEP_FRAME), beside.length === 0 ? x + STEP_FRAME : width - 1));
  const sums = new Float64Array(height * reach).fill(Infinity);
  for (let y = 0; y < height; y++) {
    for (let k = 0; k < reach; k++) {
      const x = (from[y] ?? 0) + k;
      const clear = plane[y * width + x] ?? 0;
      if (x > (to[y] ?? 0) || clear <= least) continue;
      const drift = beside.reduce((sum, near) => sum + Math.abs((near[y] ?? 0) - x), 0);
      sums[y * reach + k] = (ground[y * width + x] ?? 0) + crowdCost(clear) + STEP_ASIDE * drift + (y === 0 ? 0 : cameFrom(sums, from, y - 1, x, reach).sum);
    }
  }
  let at = best(sums, height - 1, reach);
  if (sums[(height - 1) * reach + at] === Infinity) return;
  for (let y = height - 1; y >= 0; y--) {
    const x = (from[y] ?? 0) + at;
    here[y] = x;
    if (y > 0) at = cameFrom(sums, from, y - 1, x, reach).at;
  }
}

function cameFrom(sums: Float64Array, from: Int16Array, row: number, x: number, reach: number): { readonly sum: number; readonly at: number } {
  let found = { sum: Infinity, at: 0 };
  for (const step of [0, -1, 1]) {
    const at = x + step - (from[row] ?? 0);
    const sum = at < 0 || at >= reach ? Infinity : (sums[row * reach + at] ?? Infinity) + STEP_ASIDE * Math.abs(step);
    if (sum < found.sum) found = { sum, at };
  }
  return found;
}

function best(sums: Float64Array, row: number, reach: number): number {
  let at = 0;
  for (let k = 1; k < reach; k++) if ((sums[row * reach + k] ?? Infinity) < (sums[row * reach + at] ?? Infinity)) at = k;
  return at;
}
