/** Least repeats at one distance that make a cadence, and the share of all repeats that must keep it. */
const LEAST_REPEATS = 4;
const LEAST_SHARE = 0.8;

/** The distance at which repeated frames come round, if they do. `frames` ascending. */
export function cadenceOf(frames: readonly number[]): { readonly every: number; readonly repeats: number } | undefined {
  if (frames.length < LEAST_REPEATS) return undefined;
  const counts = new Map<number, number>();
  for (const [i, frame] of frames.entries()) {
    const next = frames[i + 1];
    if (next !== undefined) counts.set(next - frame, (counts.get(next - frame) ?? 0) + 1);
  }
  const [every, count] = [...counts].toSorted((a, b) => b[1] - a[1] || a[0] - b[0])[0] ?? [0, 0];
  return every > 1 && count >= LEAST_SHARE * (frames.length - 1) ? { every, repeats: frames.length } : undefined;
}
