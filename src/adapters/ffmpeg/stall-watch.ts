/** Watches over a program that works for as long as its material is long. */
export interface StallWatch {
  readonly alive: () => void;
  readonly stalled: () => boolean;
  readonly end: () => void;
}

/** Long, for what comes before the first frame of a range may have to be decoded in silence. */
export const LONGEST_SILENCE_MS = 3_600_000;

/** What is said of a program that was stopped. */
export function stalledError(stallMs: number): Error {
  return new Error(`ffmpeg wrote nothing for ${stallMs >= 60_000 ? `${Math.round(stallMs / 60_000)} min` : `${stallMs} ms`} and was stopped`);
}

/** Stops a program that is silent too long. Time spent on what it wrote does not count: `alive` is called when that is done. */
export function stallWatch(stallMs: number, stop: () => void): StallWatch {
  let last = performance.now();
  let stalled = false;
  const timer = setInterval(() => {
    if (performance.now() - last <= stallMs) return;
    stalled = true;
    stop();
  }, Math.min(1000, stallMs));
  return { alive: () => { last = performance.now(); }, stalled: () => stalled, end: () => clearInterval(timer) };
}
