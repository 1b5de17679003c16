import type { LumaFrame } from '../frame.ts';
import { sampleBilinear } from '../pixels/sample.ts';

/**
 * How one picture lies on another: a point of the first, counted from the middle of the frame, is scaled, turned clockwise
 * (as seen on the screen) and shifted right and down to find it in the second. px and degrees.
 */
export interface Similarity {
  readonly dx: number;
  readonly dy: number;
  readonly scale: number;
  readonly rotationDeg: number;
}

/** Nothing moved. */
export const IDENTITY: Similarity = { dx: 0, dy: 0, scale: 1, rotationDeg: 0 };

/** The same with the scaled turn as its two numbers, in which the model is linear: x' = dx + a x - b y, y' = dy + b x + a y. */
export interface LinearSimilarity {
  readonly dx: number;
  readonly dy: number;
  readonly a: number;
  readonly b: number;
}

export function toLinear({ dx, dy, scale, rotationDeg }: Similarity): LinearSimilarity {
  const turn = (rotationDeg * Math.PI) / 180;
  return { dx, dy, a: scale * Math.cos(turn), b: scale * Math.sin(turn) };
}

export function fromLinear({ dx, dy, a, b }: LinearSimilarity): Similarity {
  return { dx, dy, scale: Math.hypot(a, b), rotationDeg: (Math.atan2(b, a) * 180) / Math.PI };
}

/** The way back: of a similarity from first to second, the one from second to first. */
export function inverse(similarity: Similarity): Similarity {
  const { dx, dy, a, b } = toLinear(similarity);
  const square = a * a + b * b;
  return fromLinear({ dx: -(a * dx + b * dy) / square, dy: (b * dx - a * dy) / square, a: a / square, b: -b / square });
}

/** First `inner`, then `outer`. */
export function compose(outer: Similarity, inner: Similarity): Similarity {
  const [o, i] = [toLinear(outer), toLinear(inner)];
  return fromLinear({ dx: o.dx + o.a * i.dx - o.b * i.dy, dy: o.dy + o.b * i.dx + o.a * i.dy, a: o.a * i.a - o.b * i.b, b: o.b * i.a + o.a * i.b });
}

/** The second picture laid onto the first: each pixel fetched from where the similarity says it lies (bilinear; edges repeat). `into` may be given to be written over. */
export function layOnto(second: LumaFrame, similarity: Similarity, into: Float32Array = new Float32Array(second.values.length)): LumaFrame {
  const { width, height } = second;
  const { dx, dy, a, b } = toLinear(similarity);
  const [middleX, middleY] = [(width - 1) / 2, (height - 1) / 2];
  for (let row = 0; row < height; row++) {
    const startX = middleX + dx - b * (row - middleY) - a * middleX;
    const startY = middleY + dy + a * (row - middleY) - b * middleX;
    layRow(second, into.subarray(row * width, (row + 1) * width), startX, startY, a, b);
  }
  return { width, height, values: into };
}

function layRow(second: LumaFrame, row: Float32Array, startX: number, startY: number, stepX: number, stepY: number): void {
  const { width, height, values } = second;
  for (let column = 0; column < row.length; column++) {
    const x = startX + stepX * column;
    const y = startY + stepY * column;
    row[column] = x >= 0 && y >= 0 && x < width - 1 && y < height - 1 ? inside(values, width, x, y) : sampleBilinear(second, x, y);
  }
}

/** Between four pixels that are all there. */
function inside(values: Float32Array, width: number, x: number, y: number): number {
  const left = Math.trunc(x);
  const top = Math.trunc(y);
  const toRight = x - left;
  const at = top * width + left;
  const upperLeft = values[at] ?? 0;
  const lowerLeft = values[at + width] ?? 0;
  const upper = upperLeft + toRight * ((values[at + 1] ?? 0) - upperLeft);
  const lower = lowerLeft + toRight * ((values[at + width + 1] ?? 0) - lowerLeft);
  return upper + (y - top) * (lower - upper);
}

/** The furthest any corner of the frame moves, px: one number for a shift, a scale and a turn together. */
export function largestMove(similarity: Similarity, { width, height }: { readonly width: number; readonly height: number }): number {
  const { dx, dy, a, b } = toLinear(similarity);
  const [x, y] = [(width - 1) / 2, (height - 1) / 2];
  const corners = [[-x, -y], [x, -y], [-x, y], [x, y]] as const;
  return Math.max(...corners.map(([cx, cy]) => Math.hypot(dx + (a - 1) * cx - b * cy, dy + b * cx + (a - 1) * cy)));
}
