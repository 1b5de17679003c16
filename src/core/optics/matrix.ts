/** A 3 × 3 matrix, row by row. */
export type Matrix = readonly [number, number, number, number, number, number, number, number, number];

/** Three numbers along x, y and z. */
export type Vector = readonly [number, number, number];

/** The matrix that leaves everything as it is. */
export const IDENTITY: Matrix = [1, 0, 0, 0, 1, 0, 0, 0, 1];

/** a · b: `b` works first on what follows it. */
export function product(a: Matrix, b: Matrix): Matrix {
  return [
    a[0] * b[0] + a[1] * b[3] + a[2] * b[6], a[0] * b[1] + a[1] * b[4] + a[2] * b[7], a[0] * b[2] + a[1] * b[5] + a[2] * b[8],
    a[3] * b[0] + a[4] * b[3] + a[5] * b[6], a[3] * b[1] + a[4] * b[4] + a[5] * b[7], a[3] * b[2] + a[4] * b[5] + a[5] * b[8],
    a[6] * b[0] + a[7] * b[3] + a[8] * b[6], a[6] * b[1] + a[7] * b[4] + a[8] * b[7], a[6] * b[2] + a[7] * b[5] + a[8] * b[8],
  ];
}

/** Rows and columns swapped; of a rotation, its inverse. */
export function transposed(m: Matrix): Matrix {
  return [m[0], m[3], m[6], m[1], m[4], m[7], m[2], m[5], m[8]];
}

/** The matrix applied to a vector. */
export function apply(m: Matrix, [x, y, z]: Vector): Vector {
  return [m[0] * x + m[1] * y + m[2] * z, m[3] * x + m[4] * y + m[5] * z, m[6] * x + m[7] * y + m[8] * z];
}
