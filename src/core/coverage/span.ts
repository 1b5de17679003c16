import type { Clip } from '../material/clip.ts';

/** Frames from a clip's first to its last, holes counted in: a sequence's `frames` are only those that are there. */
export function spanOf({ sequence, frames }: Clip): number | undefined {
  return sequence === undefined ? frames : sequence.last - sequence.first + 1;
}
