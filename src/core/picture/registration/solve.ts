/**
 * Solves `size` symmetric equations, `matrix` row by row, by Gaussian elimination with pivots; both arguments are used up.
 * Undefined when they do not decide every unknown.
 */
export function solveEquations(matrix: Float64Array, right: Float64Array): Float64Array | undefined {
  const size = right.length;
  const value = (row: number, column: number): number => matrix[row * size + column] ?? 0;
  const largest = matrix.reduce((most, entry) => Math.max(most, Math.abs(entry)), 0);
  for (let column = 0; column < size; column++) {
    let pivot = column;
    for (let row = column + 1; row < size; row++) if (Math.abs(value(row, column)) > Math.abs(value(pivot, column))) pivot = row;
    if (!(Math.abs(value(pivot, column)) > largest * 1e-12)) return undefined;
    swapRows(matrix, right, size, column, pivot);
    for (let row = column + 1; row < size; row++) {
      const share = value(row, column) / value(column, column);
      for (let k = column; k < size; k++) matrix[row * size + k] = value(row, k) - share * value(column, k);
      right[row] = (right[row] ?? 0) - share * (right[column] ?? 0);
    }
  }
  for (let row = size - 1; row >= 0; row--) {
    let sum = right[row] ?? 0;
    for (let k = row + 1; k < size; k++) sum -= value(row, k) * (right[k] ?? 0);
    right[row] = sum / value(row, row);
  }
  return right;
}

function swapRows(matrix: Float64Array, right: Float64Array, size: number, a: number, b: number): void {
  if (a === b) return;
  for (let k = 0; k < size; k++) {
    const kept = matrix[a * size + k] ?? 0;
    matrix[a * size + k] = matrix[b * size + k] ?? 0;
    matrix[b * size + k] = kept;
  }
  const kept = right[a] ?? 0;
  right[a] = right[b] ?? 0;
  right[b] = kept;
}
