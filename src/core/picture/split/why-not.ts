import { stampRuns } from './runs.ts';
import { cheapestSeam } from './seam.ts';
import type { LineTask } from './static-line.ts';
import { GUARD_PX } from './static-line.ts';

/** Frames of a task by index, `end` excluded. */
export interface Stretch {
  readonly start: number;
  readonly end: number;
}

/** How far single static lines reach: the longest stretches one after another, and those in which no line exists at all. */
export interface Coverage {
  readonly joined: readonly Stretch[];
  readonly blocked: readonly Stretch[];
}

/** Covers the frames with as few static lines as can be: each stretch is carried on until no line is left (greedy is best for intervals). */
export function coverWithStaticLines(task: LineTask): Coverage {
  const joined: Stretch[] = [];
  const blocked: Stretch[] = [];
  let start = 0;
  while (start < task.masks.length) {
    const end = reachOfOneLine(task, start);
    const [list, next] = end > start ? [joined, end] : [blocked, start + 1];
    const before = list.at(-1);
    if (list === blocked && before?.end === start) blocked[blocked.length - 1] = { start: before.start, end: next };
    else list.push({ start, end: next });
    start = next;
  }
  return { joined, blocked };
}

/** The first frame from `start` on that no static line reaches. */
function reachOfOneLine({ width, height, masks, limits }: LineTask, start: number): number {
  const marked = new Uint8Array(width * height);
  let [first, last] = [0, width - 1];
  for (let t = start; t < masks.length; t++) {
    first = Math.max(first, limits[t]?.first ?? 0);
    last = Math.min(last, limits[t]?.last ?? 0);
    stampRuns(masks[t]?.blocked ?? new Int16Array(0), marked, width, height, GUARD_PX);
    if (first > last || !hasWay(marked, width, height, first, last)) return t;
  }
  return masks.length;
}

/** Whether an open way leads from the top row to the bottom one between two columns, both included. */
function hasWay(marked: Uint8Array, width: number, height: number, first: number, last: number): boolean {
  let reached = new Uint8Array(width + 2).fill(1);
  for (let y = 0; y < height; y++) {
    const next = new Uint8Array(width + 2);
    let any = false;
    for (let x = first; x <= last; x++) {
      if (marked[y * width + x] !== 0 || (reached[x] ?? 0) + (reached[x + 1] ?? 0) + (reached[x + 2] ?? 0) === 0) continue;
      next[x + 1] = 1;
      any = true;
    }
    if (!any) return false;
    reached = next;
  }
  return true;
}

/** The frames that block the line which the fewest frames block: the culprits. Indices, ascending. */
export function culprits({ width, height, masks, limits }: LineTask): readonly number[] {
  const first = Math.max(0, ...limits.map((limit) => (limit.first > limit.last ? 0 : limit.first)));
  const last = Math.min(width - 1, ...limits.map((limit) => (limit.first > limit.last ? width - 1 : limit.last)));
  const [from, to] = first <= last ? [first, last] : [0, width - 1];
  const marked = new Uint8Array(width * height);
  const counts = new Float64Array(width * height).map((_, i) => (i % width < from || i % width > to ? Infinity : 0));
  for (const { blocked } of masks) {
    marked.fill(0);
    stampRuns(blocked, marked, width, height, GUARD_PX);
    for (let i = 0; i < counts.length; i++) counts[i] = (counts[i] ?? 0) + (marked[i] ?? 0);
  }
  const columns = cheapestSeam({ width, height, values: counts })?.columns;
  if (columns === undefined) return [];
  return masks.flatMap(({ blocked }, t) => {
    const limit = limits[t];
    if (limit !== undefined && limit.first > limit.last) return [t];
    marked.fill(0);
    stampRuns(blocked, marked, width, height, GUARD_PX);
    return columns.some((x, y) => marked[y * width + x] !== 0) ? [t] : [];
  });
}
