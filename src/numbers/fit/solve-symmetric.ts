/**
 * Solves a symmetric positive definite system by Cholesky's method after scaling its diagonal to 1; `matrix` is used up.
 * Undefined when the matrix is not positive definite.
 */
export function solveSymmetric(matrix: Float64Array, right: Float64Array): Float64Array | undefined {
  const n = right.length;
  const scale = new Float64Array(n);
  for (let j = 0; j < n; j++) scale[j] = 1 / Math.sqrt(matrix[j * n + j] as number);
  const solution = right.map((value, j) => value * (scale[j] as number));
  for (let j = 0; j < n; j++)
    for (let k = 0; k < n; k++)
      matrix[j * n + k] = (matrix[j * n + k] as number) * (scale[j] as number) * (scale[k] as number);
  for (let j = 0; j < n; j++) {
    for (let k = 0; k <= j; k++) {
      let sum = matrix[j * n + k] as number;
      for (let m = 0; m < k; m++) sum -= (matrix[j * n + m] as number) * (matrix[k * n + m] as number);
      if (j === k && !(sum > 0)) return undefined;
      matrix[j * n + k] = j === k ? Math.sqrt(sum) : sum / (matrix[k * n + k] as number);
    }
  }
  for (let j = 0; j < n; j++) {
    let sum = solution[j] as number;
    for (let k = 0; k < j; k++) sum -= (matrix[j * n + k] as number) * (solution[k] as number);
    solution[j] = sum / (matrix[j * n + j] as number);
  }
  for (let j = n - 1; j >= 0; j--) {
    let sum = solution[j] as number;
    for (let k = j + 1; k < n; k++) sum -= (matrix[k * n + j] as number) * (solution[k] as number);
    solution[j] = sum / (matrix[j * n + j] as number);
  }
  return solution.map((value, j) => value * (scale[j] as number));
}
