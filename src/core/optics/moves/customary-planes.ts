import type { Planes } from '../planes.ts';
import type { Nearness } from './frame-difference.ts';

/** Where the two planes of a move comparison lie when nobody measured them: a performer at 2 m before a wall at 6 m. Common practice, no source. */
const NEAR_M = 2;
const FAR_M = 6;

/** Both planes of a comparison, with what had to be taken for granted. A missing background is taken at infinity, which makes parallax an upper bound. */
export interface ChosenPlanes {
  readonly nearness: Nearness;
  /** 1/distance half way between the two, where the middle of the picture is followed. */
  readonly middle: number;
  readonly assumptions: readonly string[];
  readonly missing: readonly string[];
}

/** The planes to compare on. */
export function choosePlanes({ nearM, farM, assumptions }: Planes): ChosenPlanes {
  const near = nearM ?? Math.min(NEAR_M, (farM ?? FAR_M) / 3);
  const far = farM ?? (nearM === undefined ? FAR_M : Number.POSITIVE_INFINITY);
  const taken = [
    ...(nearM === undefined ? [`subject distance is not on record: a near plane at ${near} m is taken (common practice)`] : []),
    ...(farM === undefined ? [far === FAR_M ? `background distance is not on record: a far plane at ${far} m is taken (common practice)` : 'background distance is not on record: it is taken at infinity, so parallax is an upper bound'] : []),
  ];
  const nearness = { near: 1 / (near * 1000), far: 1 / (far * 1000) };
  const missing = [...(nearM === undefined ? ['subject distance'] : []), ...(farM === undefined ? ['background distance'] : [])];
  return { nearness, middle: (nearness.near + nearness.far) / 2, assumptions: [...assumptions, ...taken], missing };
}
