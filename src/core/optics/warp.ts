import type { PicturePoint } from './projection.ts';

/**
 * What is left of nine shifts once the whole picture was shifted, scaled and turned as well as can be (least squares): px at each point. Only a corner pin
 * takes the rest of a far plane away. `points` must lie symmetrically about the middle, as `picturePoints` do.
 */
export function leftAfterSimilarity(points: readonly PicturePoint[], shifts: readonly PicturePoint[]): readonly number[] {
  const count = points.length;
  let [sumX, sumY, along, across, square] = [0, 0, 0, 0, 0];
  for (const [index, point] of points.entries()) {
    const shift = shifts[index] ?? point;
    sumX += shift.x;
    sumY += shift.y;
    along += point.x * shift.x + point.y * shift.y;
    across += point.x * shift.y - point.y * shift.x;
    square += point.x * point.x + point.y * point.y;
  }
  const [grow, turn] = [along / square, across / square];
  return points.map((point, index) => {
    const shift = shifts[index] ?? point;
    return Math.hypot(shift.x - sumX / count - grow * point.x + turn * point.y, shift.y - sumY / count - turn * point.x - grow * point.y);
  });
}
