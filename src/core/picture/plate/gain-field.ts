import type { LumaFrame } from '../frame.ts';
import { medianInPlace } from '../pixels/order.ts';
import { solveEquations } from '../registration/solve.ts';

/** Six coefficients of a gain that varies evenly over the frame (1, x, y, x², xy, y² from -1 to 1), and an offset in codes. */
export type GainField = Float64Array;

const BIWEIGHT = 4.685;
const TERMS = 7;

/**
 * The smooth light that turns one picture into the other, outliers left aside: second = first * field + offset. A lamp dimmed
 * or a sun that went on is not a person in the plate. `trusted` marks the pixels to go by; undefined when they are too few.
 */
export function fitGainField(first: LumaFrame, second: LumaFrame, trusted: Uint8Array): GainField | undefined {
  const places: number[] = [];
  for (let y = 1; y < first.height; y += 3) for (let x = 1; x < first.width; x += 3) if (trusted[y * first.width + x] === 1) places.push(y * first.width + x);
  if (places.length < 200) return undefined;
  const basis = Float64Array.from({ length: places.length * TERMS }, (_, i) => term(first, places[Math.floor(i / TERMS)] ?? 0, i % TERMS));
  let field: GainField = Float64Array.of(1, 0, 0, 0, 0, 0, 0);
  for (let round = 0; round < 10; round++) {
    const away = Float32Array.from(places, (at, row) => (second.values[at] ?? 0) - model(basis, row, field));
    const cut = BIWEIGHT * Math.max(0.05, 1.4826 * medianInPlace(away.map(Math.abs), away.length));
    const next = weighted(basis, away, cut);
    if (next === undefined) return field;
    field = field.map((value, k) => value + (next[k] ?? 0));
  }
  return field;
}

/** The first picture under the light of the second. */
export function underLight(first: LumaFrame, field: GainField): LumaFrame {
  const { width, height } = first;
  const [even = 0, toRight = 0, down = 0, acrossBend = 0, twist = 0, downBend = 0, offset = 0] = field;
  const values = new Float32Array(width * height);
  for (let at = 0; at < values.length; at++) {
    const x = (2 * (at % width)) / (width - 1) - 1;
    const y = (2 * Math.floor(at / width)) / (height - 1) - 1;
    values[at] = (even + x * (toRight + acrossBend * x + twist * y) + y * (down + downBend * y)) * (first.values[at] ?? 0) + offset;
  }
  return { width, height, values };
}

function term({ width, height, values }: LumaFrame, at: number, k: number): number {
  if (k === 6) return 1;
  const x = (2 * (at % width)) / (width - 1) - 1;
  const y = (2 * Math.floor(at / width)) / (height - 1) - 1;
  const shapes = k === 0 ? 1 : k === 1 ? x : k === 2 ? y : k === 3 ? x * x : k === 4 ? x * y : y * y;
  return shapes * (values[at] ?? 0);
}

function model(basis: Float64Array, row: number, field: GainField): number {
  let sum = 0;
  for (let k = 0; k < TERMS; k++) sum += (field[k] ?? 0) * (basis[row * TERMS + k] ?? 0);
  return sum;
}

function weighted(basis: Float64Array, away: Float32Array, cut: number): Float64Array | undefined {
  const matrix = new Float64Array(TERMS * TERMS);
  const right = new Float64Array(TERMS);
  for (let row = 0; row < away.length; row++) {
    const residual = away[row] ?? 0;
    if (!(Math.abs(residual) < cut)) continue;
    const weight = (1 - (residual / cut) ** 2) ** 2;
    for (let j = 0; j < TERMS; j++) {
      const scaled = weight * (basis[row * TERMS + j] ?? 0);
      right[j] = (right[j] ?? 0) + scaled * residual;
      for (let k = 0; k < TERMS; k++) matrix[j * TERMS + k] = (matrix[j * TERMS + k] ?? 0) + scaled * (basis[row * TERMS + k] ?? 0);
    }
  }
  return solveEquations(matrix, right);
}
