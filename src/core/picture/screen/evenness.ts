import type { Encoding } from '../exposure/encoding.ts';
import { stopsBetween } from '../exposure/encoding.ts';
import type { LumaFrame } from '../frame.ts';
import { median, quantile, spread } from '../pixels/order.ts';

/** How evenly a screen is lit, from the medians of a grid of 8 x 6 blocks (those at least half screen). */
export interface Evenness {
  /** Between the darkest and the brightest twentieth of the blocks. */
  readonly stops: number;
  /** The block that is furthest from the middle of all; box in px. Absent when no block is screen enough. */
  readonly worst?: { readonly left: number; readonly top: number; readonly width: number; readonly height: number; readonly stops: number };
  /** Brighter on the right than on the left, and below than above: stops between the outer blocks. */
  readonly leftToRightStops: number;
  readonly topToBottomStops: number;
  /** Spread of the codes within a block over their middle: noise and texture together. */
  readonly noiseShare: number;
}

const [COLUMNS, ROWS] = [8, 6];

interface Block {
  readonly column: number;
  readonly row: number;
  readonly middle: number;
  readonly noise: number;
}

/** Measures the screen's own channel over the pixels of the screen. */
export function measureEvenness(channel: LumaFrame, pixels: Uint32Array, encoding: Encoding): Evenness {
  const blocks = blocksOf(channel, pixels);
  const middles = blocks.map(({ middle }) => middle);
  if (blocks.length === 0) return { stops: 0, leftToRightStops: 0, topToBottomStops: 0, noiseShare: 0 };
  const all = median(middles);
  const away = blocks.map((block) => ({ block, stops: stopsBetween(all, block.middle, encoding) }));
  const worst = away.reduce((most, one) => (Math.abs(one.stops) > Math.abs(most.stops) ? one : most));
  const side = (of: (block: Block) => number, most: boolean): number => {
    const edge = most ? Math.max(...blocks.map(of)) : Math.min(...blocks.map(of));
    return median(blocks.filter((block) => of(block) === edge).map(({ middle }) => middle));
  };
  return {
    stops: stopsBetween(quantile(middles, 0.05), quantile(middles, 0.95), encoding),
    worst: { ...boxOf(worst.block, channel), stops: worst.stops },
    leftToRightStops: stopsBetween(side(({ column }) => column, false), side(({ column }) => column, true), encoding),
    topToBottomStops: stopsBetween(side(({ row }) => row, false), side(({ row }) => row, true), encoding),
    noiseShare: median(blocks.map(({ noise, middle }) => noise / Math.max(middle, 1e-6))),
  };
}

function blocksOf({ width, height, values }: LumaFrame, pixels: Uint32Array): readonly Block[] {
  const codes: number[][] = Array.from({ length: COLUMNS * ROWS }, () => []);
  for (const at of pixels) {
    const column = Math.floor(((at % width) * COLUMNS) / width);
    const row = Math.floor((Math.floor(at / width) * ROWS) / height);
    codes[row * COLUMNS + column]?.push(values[at] ?? 0);
  }
  const least = (0.5 * width * height) / (COLUMNS * ROWS);
  return codes.flatMap((block, i) => {
    if (block.length < least) return [];
    const middle = median(block);
    return [{ column: i % COLUMNS, row: Math.floor(i / COLUMNS), middle, noise: spread(block, middle) }];
  });
}

function boxOf({ column, row }: Block, { width, height }: LumaFrame): { readonly left: number; readonly top: number; readonly width: number; readonly height: number } {
  const edge = (part: number, parts: number, size: number): number => Math.ceil((part * size) / parts);
  const [left, top] = [edge(column, COLUMNS, width), edge(row, ROWS, height)];
  return { left, top, width: edge(column + 1, COLUMNS, width) - left, height: edge(row + 1, ROWS, height) - top };
}
