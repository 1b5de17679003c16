import type { Matrix } from '../matrix.ts';

/** An orientation as a unit quaternion (K. Shoemake, Animating Rotation with Quaternion Curves, SIGGRAPH 1985): w, then x, y, z. Both signs mean one orientation. */
export interface Quaternion {
  readonly qw: number;
  readonly qx: number;
  readonly qy: number;
  readonly qz: number;
}

/** The quaternion of a rotation matrix; the largest of the four parts is found first, so that nothing small is divided by. */
export function quaternionOf(m: Matrix): Quaternion {
  const trace = m[0] + m[4] + m[8];
  if (trace > 0) return scaled(trace + 1, m[7] - m[5], m[2] - m[6], m[3] - m[1]);
  if (m[0] >= m[4] && m[0] >= m[8]) return scaled(m[7] - m[5], 1 + m[0] - m[4] - m[8], m[1] + m[3], m[2] + m[6]);
  if (m[4] >= m[8]) return scaled(m[2] - m[6], m[1] + m[3], 1 - m[0] + m[4] - m[8], m[5] + m[7]);
  return scaled(m[3] - m[1], m[2] + m[6], m[5] + m[7], 1 - m[0] - m[4] + m[8]);
}

/** The rotation matrix of a quaternion, row by row. */
export function matrixOf({ qw: w, qx: x, qy: y, qz: z }: Quaternion): Matrix {
  return [
    1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y),
    2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x),
    2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y),
  ];
}

/** The orientation `share` (0..1) of the way from one to another, the shorter way round, at even speed. */
export function between(a: Quaternion, b: Quaternion, share: number): Quaternion {
  const cosine = a.qw * b.qw + a.qx * b.qx + a.qy * b.qy + a.qz * b.qz;
  const [near, far] = shares(Math.abs(cosine), share);
  const signed = cosine < 0 ? -far : far;
  return scaled(near * a.qw + signed * b.qw, near * a.qx + signed * b.qx, near * a.qy + signed * b.qy, near * a.qz + signed * b.qz);
}

/** Under 1.6° apart a straight line is even to a millionth of a degree, and divides by nothing small. */
function shares(cosine: number, share: number): readonly [number, number] {
  if (cosine > 0.9999) return [1 - share, share];
  const angle = Math.acos(Math.min(1, cosine));
  return [Math.sin((1 - share) * angle) / Math.sin(angle), Math.sin(share * angle) / Math.sin(angle)];
}

function scaled(w: number, x: number, y: number, z: number): Quaternion {
  const length = Math.hypot(w, x, y, z);
  return { qw: w / length, qx: x / length, qy: y / length, qz: z / length };
}
