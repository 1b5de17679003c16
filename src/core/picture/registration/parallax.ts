import type { LumaFrame } from '../frame.ts';
import { gaussianBlur } from '../pixels/blur.ts';
import { gradient } from '../pixels/gradient.ts';
import { median } from '../pixels/order.ts';
import { correlatePhases } from './phase-correlation.ts';
import type { Similarity } from './similarity.ts';
import { layOnto } from './similarity.ts';

/** One tile that could be measured: its middle in px of the proxy and the shift that registration left there, px. */
export interface TileShift {
  readonly x: number;
  readonly y: number;
  readonly dx: number;
  readonly dy: number;
}

/** What is left in parts of the frame after the whole was registered. */
export interface ParallaxCheck {
  readonly tiles: readonly TileShift[];
  /** The largest distance of a tile from the middle of all, px of the proxy. */
  readonly largestPx: number;
  /** True when two tiles or more lie over .3 px off: the camera stood elsewhere, and no shift, scale or turn takes that away. */
  readonly found: boolean;
}

/** A registration with the brightness it found. */
interface Laid extends Similarity {
  readonly gain: number;
  readonly offset: number;
}

const [TILE_WIDTH, TILE_HEIGHT] = [64, 60];
/** Tiles that stand out by fewer spreads were wrong by over .1 px too often. */
const PSR_OF_TILE = 18;
const ALLOWED_PX = 0.3;
/** Least mean square of the slope in the direction where it is weakest, codes a pixel: along a lone edge no shift can be seen. */
const LEAST_SLOPE_SQUARE = 0.3;
/** A tile in which more than this share differs by over 6 codes holds a performer, who pulls the answer. */
const MOST_DIFFERING = 0.15;

/** Registers the frame tile by tile after the registration of the whole, to see near and far things move apart. */
export function checkParallax(lead: LumaFrame, swapped: LumaFrame, registered: Laid): ParallaxCheck {
  const laid = layOnto(swapped, registered);
  const tiles: TileShift[] = [];
  for (const [left, top] of corners(lead)) {
    const [first, second] = [cut(lead, left, top), cut(laid, left, top)];
    if (!isTextured(first) || differs(first, second, registered)) continue;
    const { psr, peaks } = correlatePhases(first, second, { reach: 4, taper: 1 });
    const best = peaks[0];
    if (psr >= PSR_OF_TILE && best !== undefined) tiles.push({ x: left + TILE_WIDTH / 2, y: top + TILE_HEIGHT / 2, dx: best.dx, dy: best.dy });
  }
  const [middleX, middleY] = [median(tiles.map(({ dx }) => dx)), median(tiles.map(({ dy }) => dy))];
  const away = tiles.map(({ dx, dy }) => Math.hypot(dx - middleX, dy - middleY));
  return { tiles, largestPx: Math.max(0, ...away), found: away.filter((px) => px > ALLOWED_PX).length >= 2 };
}

function corners({ width, height }: LumaFrame): readonly (readonly [number, number])[] {
  const across = Math.floor(width / TILE_WIDTH);
  const down = Math.floor(height / TILE_HEIGHT);
  const left = Math.floor((width - across * TILE_WIDTH) / 2);
  const top = Math.floor((height - down * TILE_HEIGHT) / 2);
  return Array.from({ length: across * down }, (_, i) => [left + (i % across) * TILE_WIDTH, top + Math.floor(i / across) * TILE_HEIGHT] as const);
}

function cut(frame: LumaFrame, left: number, top: number): LumaFrame {
  const values = new Float32Array(TILE_WIDTH * TILE_HEIGHT);
  for (let y = 0; y < TILE_HEIGHT; y++) values.set(frame.values.subarray((top + y) * frame.width + left, (top + y) * frame.width + left + TILE_WIDTH), y * TILE_WIDTH);
  return { width: TILE_WIDTH, height: TILE_HEIGHT, values };
}

function isTextured(tile: LumaFrame): boolean {
  const { across, down } = gradient(gaussianBlur(tile, 1.2));
  let [xx, xy, yy] = [0, 0, 0];
  for (let i = 0; i < across.length; i++) {
    const [x, y] = [across[i] ?? 0, down[i] ?? 0];
    xx += x * x;
    xy += x * y;
    yy += y * y;
  }
  const least = (xx + yy) / 2 - Math.hypot((xx - yy) / 2, xy);
  return least / across.length >= LEAST_SLOPE_SQUARE;
}

function differs(first: LumaFrame, second: LumaFrame, { gain, offset }: Laid): boolean {
  let count = 0;
  for (let i = 0; i < first.values.length; i++) if (Math.abs((second.values[i] ?? 0) - gain * (first.values[i] ?? 0) - offset) > 6) count++;
  return count > MOST_DIFFERING * first.values.length;
}
