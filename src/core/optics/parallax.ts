import type { Planes } from './planes.ts';
import type { CameraPair, PicturePoint } from './projection.ts';
import { displacementOrRefusal } from './projection.ts';

/**
 * By how much near things shift against far ones, px: the part of a difference no 2-D warp undoes, since a warp that lays one plane right puts the other
 * wrong. `none` when the camera stands where it stood; `at-most` when only the near distance is known (the far one taken at infinity); `by-distance` when
 * the near one is not: then a thing Z metres away shifts by about `pxMetres` / Z against whatever is far behind it.
 */
export type Parallax =
  | { readonly kind: 'none'; readonly px: 0; readonly missing: readonly string[] }
  | { readonly kind: 'exact' | 'at-most'; readonly px: number; readonly missing: readonly string[] }
  | { readonly kind: 'by-distance'; readonly pxMetres: number; readonly missing: readonly string[] };

/** Where `by-distance` is measured: near enough to matter, far enough that a step of the dolly is small beside it. */
const REFERENCE_M = 10;

/** The parallax between two cameras. @throws {ImpossibleValueError} when a plane lies behind one of them. */
export function parallaxOf(pair: CameraPair, points: readonly PicturePoint[], { nearM, farM }: Planes): Parallax {
  if (pair.shift.every((offset) => Math.abs(offset) < 1e-9)) return { kind: 'none', px: 0, missing: [] };
  const far = farM ?? Number.POSITIVE_INFINITY;
  if (nearM === undefined) {
    const px = largestBetween(pair, points, REFERENCE_M, Number.POSITIVE_INFINITY);
    const missing = ['subject distance', ...(farM === undefined ? ['background distance'] : [])];
    return { kind: 'by-distance', pxMetres: px * REFERENCE_M, missing };
  }
  const px = largestBetween(pair, points, nearM, far);
  return farM === undefined ? { kind: 'at-most', px, missing: ['background distance'] } : { kind: 'exact', px, missing: [] };
}

/** How near a thing may come before it shifts by more than `limitPx` against what is far behind it, m. */
export function clearBeyond(pxMetres: number, limitPx: number): number {
  return pxMetres / limitPx;
}

function largestBetween(pair: CameraPair, points: readonly PicturePoint[], nearM: number, farM: number): number {
  const lengths = points.map((point) => {
    const near = displacementOrRefusal(pair, point, nearM);
    const far = displacementOrRefusal(pair, point, farM);
    return Math.hypot(near.x - far.x, near.y - far.y);
  });
  return Math.max(...lengths);
}
