import type { MovingLine } from './moving-line.ts';
import type { LineKey } from './split-line.ts';
import { pointsOf } from './split-line.ts';

/**
 * As few keys as keep the line open when it moves straight from key to key: each is carried on while every column between
 * stays on open pixels. `frames` are the lead frames of the line's frames.
 */
export function keysOf(line: MovingLine, frames: readonly number[], height: number, clearances: readonly Uint8Array[]): readonly LineKey[] {
  const key = (t: number): LineKey => ({ frame: frames[t] ?? 0, line: pointsOf(line.columns.subarray(t * height, (t + 1) * height)) });
  const keys = [key(0)];
  let start = 0;
  while (start < frames.length - 1) {
    let reach = 1;
    while (start + 2 * reach < frames.length && staysOpen(line, frames, height, clearances, start, start + 2 * reach)) reach *= 2;
    let end = start + reach;
    for (let step = reach >> 1; step >= 1; step >>= 1) if (end + step < frames.length && staysOpen(line, frames, height, clearances, start, end + step)) end += step;
    keys.push(key(end));
    start = end;
  }
  return keys;
}

function staysOpen({ columns }: MovingLine, frames: readonly number[], height: number, clearances: readonly Uint8Array[], start: number, end: number): boolean {
  const [from, to] = [frames[start] ?? 0, frames[end] ?? 0];
  for (let t = start + 1; t < end; t++) {
    const plane = clearances[t] ?? new Uint8Array(0);
    const width = plane.length / height;
    const share = ((frames[t] ?? 0) - from) / (to - from);
    for (let y = 0; y < height; y++) {
      const x = (1 - share) * (columns[start * height + y] ?? 0) + share * (columns[end * height + y] ?? 0);
      if (plane[y * width + Math.floor(x)] === 0 || plane[y * width + Math.ceil(x)] === 0) return false;
    }
  }
  return true;
}
