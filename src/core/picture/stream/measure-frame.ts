import type { LumaFrame } from '../frame.ts';

/** What is kept of a frame. Codes. */
export interface FrameNumbers {
  readonly mean: number;
  /** Spread of the codes over the frame. */
  readonly spread: number;
  /** Share of pixels darker than a tenth of the range. */
  readonly darkShare: number;
  /** Mean absolute difference from the frame before, and of the block of 16 x 9 where it is greatest; absent for the first frame. */
  readonly change?: number;
  readonly greatestChange?: number;
  /** Whether the whole decoded frame equals the one before, when hashes were taken. */
  readonly sameHash?: boolean;
}

const DARK = 25.5;
const [COLUMNS, ROWS] = [16, 9];

/** The numbers of one frame against the one before it. A frame of another size counts as wholly changed. */
export function measureFrame(frame: LumaFrame, before: LumaFrame | undefined, sameHash?: boolean): FrameNumbers {
  const { values } = frame;
  const sums = new Float64Array(3);
  for (let row = 0; row < values.length; row += frame.width) addRow(sums, values, row, row + frame.width);
  const [sum = 0, squares = 0, dark = 0] = sums;
  const mean = sum / values.length;
  const hash = sameHash === undefined ? {} : { sameHash };
  const still = { mean, spread: Math.sqrt(Math.max(0, squares / values.length - mean * mean)), darkShare: dark / values.length, ...hash };
  return before === undefined ? still : { ...still, ...changeFrom(before, frame) };
}

/** Adds the sum of a row, of its squares, and its dark pixels. */
function addRow(sums: Float64Array, values: Float32Array, from: number, to: number): void {
  let sum = 0;
  let squares = 0;
  let dark = 0;
  for (let i = from; i < to; i++) {
    const value = values[i] ?? 0;
    sum += value;
    squares += value * value;
    if (value < DARK) dark++;
  }
  sums[0] = (sums[0] ?? 0) + sum;
  sums[1] = (sums[1] ?? 0) + squares;
  sums[2] = (sums[2] ?? 0) + dark;
}

function changeFrom(before: LumaFrame, { width, height, values }: LumaFrame): { readonly change: number; readonly greatestChange: number } {
  if (before.width !== width || before.height !== height) return { change: 255, greatestChange: 255 };
  const sums = new Float64Array(COLUMNS * ROWS);
  const counts = new Uint32Array(COLUMNS * ROWS);
  const startOf = (column: number): number => Math.ceil((column * width) / COLUMNS);
  for (let y = 0; y < height; y++) {
    const row = Math.floor((y * ROWS) / height) * COLUMNS;
    for (let column = 0; column < COLUMNS; column++) {
      const [from, to] = [startOf(column), startOf(column + 1)];
      sums[row + column] = (sums[row + column] ?? 0) + awaySum(values, before.values, y * width + from, y * width + to);
      counts[row + column] = (counts[row + column] ?? 0) + to - from;
    }
  }
  const total = sums.reduce((all, one) => all + one, 0);
  return { change: total / values.length, greatestChange: Math.max(...sums.map((one, i) => one / Math.max(counts[i] ?? 0, 1))) };
}

function awaySum(values: Float32Array, before: Float32Array, from: number, to: number): number {
  let sum = 0;
  for (let at = from; at < to; at++) sum += Math.abs((values[at] ?? 0) - (before[at] ?? 0));
  return sum;
}
