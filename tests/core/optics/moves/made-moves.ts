import type { Move, MoveSample } from '../../../../src/core/optics/moves/move.ts';
import { quaternionOf } from '../../../../src/core/optics/moves/quaternion.ts';
import type { Aim, Place } from '../../../../src/core/optics/projection.ts';
import { orientation } from '../../../../src/core/optics/projection.ts';

/** One moment of a made move, with angles as people think of them. */
export interface Moment extends Place, Aim {
  readonly focalLengthMm: number;
}

export function sampleOf(frame: number, { xMm, yMm, zMm, focalLengthMm, ...aim }: Moment): MoveSample {
  return { frame, xMm, yMm, zMm, focalLengthMm, ...quaternionOf(orientation(aim)) };
}

/** A move sampled at every frame; `at` takes frames, fractions among them. */
export function moveFrom(frames: number, at: (frame: number) => Moment): Move {
  return { rate: { num: 24, den: 1 }, samples: Array.from({ length: frames }, (_, frame) => sampleOf(frame, at(frame))) };
}

/** Ten seconds at 24 fps: a hold, a dolly of 1.5 m with 25° of pan and a little tilt, another hold. */
export function dollyAndPan(frame: number): Moment {
  const share = Math.min(1, Math.max(0, (frame - 60) / 120));
  const eased = share * share * (3 - 2 * share);
  return { xMm: 400 * eased, yMm: 0, zMm: 1500 * eased, panDeg: 25 * eased, tiltDeg: 3 * Math.sin(Math.PI * eased), rollDeg: 0, focalLengthMm: 35 };
}

/** Noise that is the same on every machine: −1..1 from a whole number (Lehmer's generator). */
export function noiseFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return (state / 2_147_483_647) * 2 - 1;
  };
}
