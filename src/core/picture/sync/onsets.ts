import type { LagRange } from './correlate-sound.ts';
import { SOUND_RATE } from './signal.ts';

/** 10 ms. */
const STEP = 0.01 * SOUND_RATE;

/** The lag at which the beginnings of sounds best fall on each other, samples; undefined when nothing begins. An independent, coarser witness. */
export function onsetLag(first: Float32Array, second: Float32Array, range: LagRange): number | undefined {
  const [a, b] = [onsets(first), onsets(second)];
  let best: { readonly lag: number; readonly fit: number } | undefined;
  for (let lag = Math.ceil(range.from / STEP); lag <= range.to / STEP; lag++) {
    const fit = likeness(a, b, lag);
    if (fit > (best?.fit ?? 0)) best = { lag, fit };
  }
  return best === undefined ? undefined : best.lag * STEP;
}

/** How much the loudness rises every 10 ms, on a logarithmic scale, its mean taken away. */
function onsets(samples: Float32Array): Float32Array {
  const energies = Array.from({ length: Math.floor(samples.length / STEP) }, (_, i) => samples.subarray(i * STEP, (i + 1) * STEP).reduce((sum, sample) => sum + sample * sample, 0));
  const floor = 1e-4 * (energies.reduce((sum, energy) => sum + energy, 0) / Math.max(energies.length, 1)) + 1e-12;
  const rises = Float32Array.from(energies, (energy, i) => Math.max(0, Math.log((energy + floor) / ((energies[i - 1] ?? energy) + floor))));
  const mean = rises.reduce((sum, rise) => sum + rise, 0) / Math.max(rises.length, 1);
  return rises.map((rise) => rise - mean);
}

function likeness(a: Float32Array, b: Float32Array, lag: number): number {
  let sum = 0;
  for (let i = Math.max(0, -lag); i < a.length && i + lag < b.length; i++) sum += (a[i] ?? 0) * (b[i + lag] ?? 0);
  return sum;
}
