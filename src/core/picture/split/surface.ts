/** What a moving line may do: columns it may take in each frame, and how far it may step from row to row and frame to frame. */
export interface SurfaceRules {
  readonly width: number;
  readonly height: number;
  readonly frames: number;
  /** First and last column allowed in a frame, both included; first above last when there is none. */
  readonly first: ArrayLike<number>;
  readonly last: ArrayLike<number>;
  /** At most this many columns aside from one row to the next. */
  readonly stepRow: number;
  /** At most this many columns aside from one frame to the next. */
  readonly stepFrame: number;
  /** The pixels of frame `t`, row by row: closed where the value is at most the radius asked for. */
  readonly clearance: (t: number) => ArrayLike<number>;
}

/**
 * The leftmost of all moving lines: for each frame and row its column. Undefined when there is none, exactly: the lesser of
 * two feasible surfaces is feasible, so pushing every point right only as far as it must go ends at the least one.
 * `start` may be any surface known to lie left of it or on it (the answer for a smaller radius).
 */
export function leftmostSurface(rules: SurfaceRules, radius: number, start?: Int16Array): Int16Array | undefined {
  const { height, frames, first } = rules;
  const columns = start === undefined ? new Int16Array(frames * height) : Int16Array.from(start);
  if (start === undefined) for (let t = 0; t < frames; t++) columns.fill(first[t] ?? 0, t * height, (t + 1) * height);
  for (;;) {
    if (!toNextFree(rules, radius, columns)) return undefined;
    const moved = closeRows(rules, columns);
    if (!closeFrames(rules, columns) && !moved) return columns;
  }
}

/** The rightmost of all moving lines, by the mirrored question. Undefined when there is none. */
export function rightmostSurface(rules: SurfaceRules, radius: number): Int16Array | undefined {
  const edge = rules.width - 1;
  const found = leftmostSurface(mirrored(rules), radius);
  return found?.map((x) => edge - x);
}

function mirrored(rules: SurfaceRules): SurfaceRules {
  const { width, height, frames } = rules;
  const turn = (from: ArrayLike<number>): Int32Array => Int32Array.from({ length: frames }, (_, t) => width - 1 - (from[t] ?? 0));
  const row = new Float32Array(width * height);
  const clearance = (t: number): ArrayLike<number> => {
    const plane = rules.clearance(t);
    for (let y = 0; y < height; y++) for (let x = 0; x < width; x++) row[y * width + x] = plane[y * width + width - 1 - x] ?? 0;
    return row;
  };
  return { ...rules, first: turn(rules.last), last: turn(rules.first), clearance };
}

/** Pushes each point right to the next open pixel. False when one leaves its frame's columns. */
function toNextFree({ width, height, frames, last, clearance }: SurfaceRules, radius: number, columns: Int16Array): boolean {
  for (let t = 0; t < frames; t++) {
    const plane = clearance(t);
    const end = last[t] ?? -1;
    for (let y = 0; y < height; y++) {
      let x = columns[t * height + y] ?? 0;
      while (x <= end && (plane[y * width + x] ?? 0) <= radius) x++;
      if (x > end) return false;
      columns[t * height + y] = x;
    }
  }
  return true;
}

/** Pulls neighbouring rows after one another. True when a point moved. */
function closeRows({ height, frames, stepRow }: SurfaceRules, columns: Int16Array): boolean {
  let moved = false;
  for (let t = 0; t < frames; t++) {
    const row = t * height;
    for (let y = 1; y < height; y++) moved = raise(columns, row + y, (columns[row + y - 1] ?? 0) - stepRow) || moved;
    for (let y = height - 2; y >= 0; y--) moved = raise(columns, row + y, (columns[row + y + 1] ?? 0) - stepRow) || moved;
  }
  return moved;
}

/** The same from frame to frame. */
function closeFrames({ height, stepFrame }: SurfaceRules, columns: Int16Array): boolean {
  let moved = false;
  for (let i = height; i < columns.length; i++) moved = raise(columns, i, (columns[i - height] ?? 0) - stepFrame) || moved;
  for (let i = columns.length - height - 1; i >= 0; i--) moved = raise(columns, i, (columns[i + height] ?? 0) - stepFrame) || moved;
  return moved;
}

function raise(columns: Int16Array, i: number, least: number): boolean {
  if ((columns[i] ?? 0) >= least) return false;
  columns[i] = least;
  return true;
}

/** The widest moving corridor: the greatest whole radius up to `most` that leaves a surface, and the leftmost one there. */
export function widestSurface(rules: SurfaceRules, most: number): { readonly radius: number; readonly leftmost: Int16Array } | undefined {
  let leftmost = leftmostSurface(rules, 0);
  if (leftmost === undefined) return undefined;
  let good = 0;
  let bad = Math.max(Math.floor(most), 0) + 1;
  while (bad - good > 1) {
    const middle = (good + bad) >> 1;
    const found = leftmostSurface(rules, middle, leftmost);
    if (found === undefined) bad = middle;
    else [good, leftmost] = [middle, found];
  }
  return { radius: good, leftmost };
}
