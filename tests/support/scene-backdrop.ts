import { photograph } from './photographs.ts';
import { randomFrom } from './random.ts';

/** What stands behind the performers: an invented room, or one of two photographs (which need ffmpeg to decode). */
export type Backdrop = 'room' | 'bare-room' | 'home' | 'alpine';

/** How far beyond the frame the backdrop is painted, px of the proxy, so that a camera can move. */
export const MARGIN = 40;

/** Samples of the painting a proxy pixel, each way. */
export const FINE = 4;

/** The backdrop painted at FINE samples a pixel, MARGIN beyond the frame on every side. */
export interface Painting {
  readonly width: number;
  readonly height: number;
  readonly values: Float32Array;
}

/** Where the invented room's door frame stands, px of the proxy: its two jambs are the long upright edges. */
export interface Door {
  readonly left: number;
  readonly right: number;
  readonly jamb: number;
}

const paintings = new Map<string, Painting>();

/** The door of a room `width` px wide; `shift` moves it, px. */
export function doorOf(width: number, shift: number): Door {
  return { left: Math.round(width * 0.416) + shift, right: Math.round(width * 0.626) + shift, jamb: 7 };
}

/** Paints a backdrop; the same answer, from memory, when asked again. */
export function paint(backdrop: Backdrop, size: { readonly width: number; readonly height: number }, seed: number, door: Door): Painting {
  const key = [backdrop, size.width, size.height, seed, door.left].join(' ');
  const kept = paintings.get(key);
  if (kept !== undefined) return kept;
  const width = (size.width + 2 * MARGIN) * FINE;
  const height = (size.height + 2 * MARGIN) * FINE;
  const values = new Float32Array(width * height);
  if (backdrop === 'room' || backdrop === 'bare-room') paintRoom(values, { width, height }, size, { seed, door, texture: backdrop === 'room' ? 1 : 0.25 });
  else paintPhotograph(values, { width, height }, backdrop);
  const painting = { width, height, values };
  if (paintings.size > 12) paintings.clear();
  paintings.set(key, painting);
  return painting;
}

interface Size {
  readonly width: number;
  readonly height: number;
}

function paintPhotograph(values: Float32Array, fine: Size, name: 'home' | 'alpine'): void {
  const still = photograph(name);
  for (let y = 0; y < fine.height; y++) {
    for (let x = 0; x < fine.width; x++) {
      const from = Math.floor((y * still.height) / fine.height) * still.width + Math.floor((x * still.width) / fine.width);
      values[y * fine.width + x] = 16 + 0.85 * (still.values[from] ?? 0);
    }
  }
}

function paintRoom(values: Float32Array, fine: Size, size: Size, room: { readonly seed: number; readonly door: Door; readonly texture: number }): void {
  const plaster = textureOf(fine, room.seed);
  for (let row = 0; row < fine.height; row++) {
    const y = (row + 0.5) / FINE - 0.5 - MARGIN;
    for (let column = 0; column < fine.width; column++) {
      const x = (column + 0.5) / FINE - 0.5 - MARGIN;
      values[row * fine.width + column] = furnished(x / size.width, y / size.height, x, room.door) + room.texture * (plaster[row * fine.width + column] ?? 0);
    }
  }
}

/** Walls, floor, skirting, pictures and door in codes; `u`, `v` run 0 to 1 across and down the frame, `x` in px. */
function furnished(u: number, v: number, x: number, door: Door): number {
  if (v > 0.86) return 62 + 30 * (v - 0.86) - 8 * u;
  if (v > 0.83) return 150;
  const jambs = (x >= door.left && x < door.left + door.jamb) || (x > door.right - door.jamb && x <= door.right);
  if (v > 0.14 && jambs) return 165;
  if (v > 0.14 && v < 0.18 && x >= door.left && x <= door.right) return 165;
  if (v >= 0.18 && x > door.left && x < door.right) return 84 + 10 * v;
  if (within(u, v, 0.06, 0.2, 0.18, 0.44)) return within(u, v, 0.07, 0.22, 0.17, 0.42) ? 90 + 60 * Math.sin(40 * u + 9 * v) ** 2 : 50;
  if (within(u, v, 0.76, 0.16, 0.93, 0.36)) return within(u, v, 0.77, 0.18, 0.92, 0.34) ? 70 + 90 * Math.sin(25 * v - 14 * u) ** 2 : 190;
  return 118 + 22 * u - 12 * v;
}

function within(u: number, v: number, left: number, top: number, right: number, bottom: number): boolean {
  return u > left && u < right && v > top && v < bottom;
}

/** Plaster: random values on ever finer lattices, each half as far apart and about six tenths as strong (near 1/f). */
function textureOf(fine: Size, seed: number): Float32Array {
  const out = new Float32Array(fine.width * fine.height);
  let strength = 9;
  for (let cell = 64 * FINE; cell >= 2; cell /= 2) {
    addLattice(out, fine, cell, strength, seed * 31 + cell);
    strength *= 0.62;
  }
  return out;
}

function addLattice(out: Float32Array, fine: Size, cell: number, strength: number, seed: number): void {
  const random = randomFrom(seed);
  const columns = Math.ceil(fine.width / cell) + 2;
  const knots = Float32Array.from({ length: columns * (Math.ceil(fine.height / cell) + 2) }, () => strength * (2 * random() - 1));
  for (let y = 0; y < fine.height; y++) {
    const down = eased((y % cell) / cell);
    const knotRow = Math.floor(y / cell) * columns;
    for (let x = 0; x < fine.width; x++) {
      const at = knotRow + Math.floor(x / cell);
      const across = eased((x % cell) / cell);
      const upper = (knots[at] ?? 0) + across * ((knots[at + 1] ?? 0) - (knots[at] ?? 0));
      const lower = (knots[at + columns] ?? 0) + across * ((knots[at + columns + 1] ?? 0) - (knots[at + columns] ?? 0));
      out[y * fine.width + x] = (out[y * fine.width + x] ?? 0) + upper + down * (lower - upper);
    }
  }
}

function eased(part: number): number {
  return part * part * (3 - 2 * part);
}
