/** The marked pixels of a frame as runs along rows: `row`, `from` and `to` (included) for each, three numbers a run. */
export type Runs = Int16Array;

/** One connected patch of marked pixels; pixels touching by a corner are connected. Edges are included. */
export interface Blob {
  readonly area: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  /** Mean column. */
  readonly middle: number;
}

/** The patches of at least `leastArea` pixels, largest first, and the runs they are made of, from the top left. */
export function findBlobs(marked: Uint8Array, width: number, height: number, leastArea: number): { readonly blobs: readonly Blob[]; readonly runs: Runs } {
  const all = runsOf(marked, width, height);
  const patchOf = connect(all);
  const areas = new Int32Array(all.length / 3);
  for (let i = 0; i < areas.length; i++) {
    const patch = patchOf[i] ?? 0;
    areas[patch] = (areas[patch] ?? 0) + (all[3 * i + 2] ?? 0) - (all[3 * i + 1] ?? 0) + 1;
  }
  const kept: number[] = [];
  const found = new Map<number, { area: number; left: number; right: number; top: number; bottom: number; sum: number }>();
  for (let i = 0; i < areas.length; i++) {
    const patch = patchOf[i] ?? 0;
    const area = areas[patch] ?? 0;
    if (area < leastArea) continue;
    const y = all[3 * i] ?? 0;
    const from = all[3 * i + 1] ?? 0;
    const to = all[3 * i + 2] ?? 0;
    kept.push(y, from, to);
    const blob = found.get(patch) ?? { area, left: from, right: to, top: y, bottom: y, sum: 0 };
    blob.left = Math.min(blob.left, from);
    blob.right = Math.max(blob.right, to);
    blob.bottom = y;
    blob.sum += ((from + to) / 2) * (to - from + 1);
    found.set(patch, blob);
  }
  const blobs = [...found.values()].map(({ sum, ...blob }) => ({ ...blob, middle: sum / blob.area }));
  return { blobs: blobs.toSorted((a, b) => b.area - a.area || a.left - b.left || a.top - b.top), runs: Int16Array.from(kept) };
}

function runsOf(marked: Uint8Array, width: number, height: number): Runs {
  const runs: number[] = [];
  for (let y = 0; y < height; y++) {
    const row = y * width;
    for (let x = 0; x < width; x++) {
      if (marked[row + x] === 0) continue;
      const from = x;
      while (x + 1 < width && marked[row + x + 1] !== 0) x++;
      runs.push(y, from, x);
    }
  }
  return Int16Array.from(runs);
}

/** For each run the number of the first run of its patch. */
function connect(runs: Runs): Int32Array {
  const count = runs.length / 3;
  const parent = new Int32Array(count);
  for (let i = 0; i < count; i++) parent[i] = i;
  const root = (i: number): number => {
    let at = i;
    while (parent[at] !== at) {
      parent[at] = parent[parent[at] ?? 0] ?? 0;
      at = parent[at] ?? 0;
    }
    return at;
  };
  let above = 0;
  for (let i = 0; i < count; i++) {
    const y = runs[3 * i] ?? 0;
    const from = runs[3 * i + 1] ?? 0;
    const to = runs[3 * i + 2] ?? 0;
    while (above < i && ((runs[3 * above] ?? 0) < y - 1 || (runs[3 * above] === y - 1 && (runs[3 * above + 2] ?? 0) < from - 1))) above++;
    for (let j = above; j < i && runs[3 * j] === y - 1 && (runs[3 * j + 1] ?? 0) <= to + 1; j++) {
      const [a, b] = [root(i), root(j)];
      if (a !== b) parent[Math.max(a, b)] = Math.min(a, b);
    }
  }
  return parent.map((_, i) => root(i));
}

/** Marks the runs in `into`, grown by a disc of `grow` pixels. */
export function stampRuns(runs: Runs, into: Uint8Array, width: number, height: number, grow = 0): void {
  for (let dy = -grow; dy <= grow; dy++) {
    const aside = Math.floor(Math.sqrt(grow * grow - dy * dy));
    for (let i = 0; i < runs.length; i += 3) {
      const y = (runs[i] ?? 0) + dy;
      if (y < 0 || y >= height) continue;
      into.fill(1, y * width + Math.max((runs[i + 1] ?? 0) - aside, 0), y * width + Math.min((runs[i + 2] ?? 0) + aside, width - 1) + 1);
    }
  }
}

/** How many pixels the runs hold. */
export function areaOf(runs: Runs): number {
  let sum = 0;
  for (let i = 0; i < runs.length; i += 3) sum += (runs[i + 2] ?? 0) - (runs[i + 1] ?? 0) + 1;
  return sum;
}
