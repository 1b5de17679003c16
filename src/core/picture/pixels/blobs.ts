/** Marked pixels that touch, also at corners. `left` and `top` are the first column and row, `width` and `height` what it spans. */
export interface Blob {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly area: number;
  /** Indices into the frame, row by row. */
  readonly pixels: Uint32Array;
}

/** The blobs of at least `leastArea` pixels in a mask, largest first. */
export function findBlobs(mask: Uint8Array, width: number, leastArea: number): readonly Blob[] {
  const open = mask.slice();
  const queue = new Uint32Array(mask.length);
  const blobs: Blob[] = [];
  for (let start = 0; start < open.length; start++) {
    if (open[start] === 0) continue;
    const area = fill(open, width, start, queue);
    if (area >= leastArea) blobs.push(blobOf(queue.slice(0, area).sort(), width));
  }
  return blobs.toSorted((a, b) => b.area - a.area || a.top - b.top || a.left - b.left);
}

/** Walks over all pixels that hang together with `start`, takes them out of `open` and lists them in `queue`; their count. */
function fill(open: Uint8Array, width: number, start: number, queue: Uint32Array): number {
  let [done, known] = [0, 1];
  queue[0] = start;
  open[start] = 0;
  while (done < known) {
    const at = queue[done++] ?? 0;
    const x = at % width;
    for (const [stepX, stepY] of AROUND) {
      const next = at + stepY * width + stepX;
      if (x + stepX < 0 || x + stepX >= width || next < 0 || next >= open.length || open[next] === 0) continue;
      open[next] = 0;
      queue[known++] = next;
    }
  }
  return known;
}

const AROUND = [[-1, -1], [0, -1], [1, -1], [-1, 0], [1, 0], [-1, 1], [0, 1], [1, 1]] as const;

function blobOf(pixels: Uint32Array, width: number): Blob {
  let [left, right] = [width, 0];
  for (const at of pixels) {
    left = Math.min(left, at % width);
    right = Math.max(right, at % width);
  }
  const top = Math.floor((pixels[0] ?? 0) / width);
  const bottom = Math.floor((pixels.at(-1) ?? 0) / width);
  return { left, top, width: right - left + 1, height: bottom - top + 1, area: pixels.length, pixels };
}
