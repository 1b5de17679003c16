/** Guide sound of a clip, one channel. */
export const SOUND_RATE = 8000;

/** Root of the mean square; 0 for nothing. */
export function loudness(samples: Float32Array): number {
  let sum = 0;
  for (const sample of samples) sum += sample * sample;
  return samples.length === 0 ? 0 : Math.sqrt(sum / samples.length);
}

/** Samples from `from` on, `count` of them; silence beyond either end. */
export function cutOut(samples: Float32Array, from: number, count: number): Float32Array {
  const out = new Float32Array(count);
  const start = Math.max(0, from);
  const end = Math.min(samples.length, from + count);
  if (end > start) out.set(samples.subarray(start, end), start - from);
  return out;
}
