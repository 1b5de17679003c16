import type { MoveSettings } from '../src/core/optics/moves/compare-moves.ts';
import { compareMoves } from '../src/core/optics/moves/compare-moves.ts';
import type { Move } from '../src/core/optics/moves/move.ts';
import { quaternionOf } from '../src/core/optics/moves/quaternion.ts';
import { orientation } from '../src/core/optics/projection.ts';

const SETTINGS: MoveSettings = {
  plate: { widthPx: 4096, heightPx: 2160, sensor: { widthMm: 24.89, heightMm: (24.89 * 2160) / 4096 }, squeeze: 1 },
  planes: { nearM: 2, farM: 6, assumptions: [] },
  offset: 0,
};

/** A wandering camera of so many frames, `late` frames late. */
function wander(frames: number, late: number): Move {
  return {
    rate: { num: 24, den: 1 },
    samples: Array.from({ length: frames }, (_, frame) => {
      const t = (frame - late) / 24;
      const aim = { panDeg: 12 * Math.sin(t / 7), tiltDeg: 3 * Math.sin(t / 5), rollDeg: 0.2 * Math.sin(t) };
      return { frame, xMm: 300 * Math.sin(t / 11), yMm: 20 * Math.sin(t / 3), zMm: 500 * Math.sin(t / 13), focalLengthMm: 35 + Math.sin(t / 9), entrancePupilMm: 90, ...quaternionOf(orientation(aim)) };
    }),
  };
}

/** Milliseconds to compare two tracked moves of so many samples each, once the engine is warm: the best and the median of `rounds`. */
export function benchMoves(samples = 10_000, rounds = 15): { readonly bestMs: number; readonly medianMs: number } {
  const [first, second] = [wander(samples, 0), wander(samples, 3.4)];
  const times: number[] = [];
  for (let round = 0; round < rounds + 3; round += 1) {
    const start = performance.now();
    const comparison = compareMoves(first, second, SETTINGS);
    if (comparison.kind !== 'moves') throw new Error(JSON.stringify(comparison));
    if (round >= 3) times.push(performance.now() - start);
  }
  times.sort((a, b) => a - b);
  return { bestMs: times[0] ?? Number.NaN, medianMs: times[Math.floor(rounds / 2)] ?? Number.NaN };
}

if (import.meta.main) {
  const { bestMs, medianMs } = benchMoves();
  console.log(`two tracked moves of 10 000 samples: best ${bestMs.toFixed(1)} ms, median ${medianMs.toFixed(1)} ms (goal: under 50)`);
}
