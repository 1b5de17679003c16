/** How far away the nearest and the farthest thing lie on which the join must hold, m from the camera; Infinity is allowed for `farM`. */
export interface Planes {
  readonly nearM?: number;
  readonly farM?: number;
  /** How they were come by, for whoever reads the figures: "the performer stands where the lens is focused, 2.4 m". */
  readonly assumptions: readonly string[];
}

/** Distances on record, m; Infinity is allowed. */
export interface RecordedDistances {
  readonly subjectM?: number;
  readonly backgroundM?: number;
  readonly focusM?: number;
}

/**
 * Near and far plane from what is on record: the subject as taped, else where the lens is focused (said so); the background as taped.
 * What nobody measured stays absent.
 */
export function planesOf({ subjectM, backgroundM, focusM }: RecordedDistances): Planes {
  const [nearM, assumptions] = nearPlane(subjectM, focusM);
  const [near, far] = nearM !== undefined && backgroundM !== undefined && backgroundM < nearM ? [backgroundM, nearM] : [nearM, backgroundM];
  return { ...(near === undefined ? {} : { nearM: near }), ...(far === undefined ? {} : { farM: far }), assumptions };
}

/** No lens is marked farther, and nobody stands there. */
const AS_GOOD_AS_INFINITY_M = 100_000;

function nearPlane(subjectM: number | undefined, focusM: number | undefined): readonly [number | undefined, readonly string[]] {
  if (subjectM !== undefined) return [subjectM, []];
  // Focus at infinity, or as good as there, says nothing of what stands near.
  if (focusM === undefined || !(focusM <= AS_GOOD_AS_INFINITY_M)) return [undefined, []];
  return [focusM, [`subject distance is not on record: the subject is taken to stand where the lens is focused, ${metresText(focusM)}`]];
}

/** A distance as people read it, to the millimetre. */
export function metresText(metres: number): string {
  return metres === Number.POSITIVE_INFINITY ? 'infinity' : `${Math.round(metres * 1000) / 1000 + 0} m`;
}
