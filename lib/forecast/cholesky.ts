// Symmetric positive definite matrices as a model of a few hundred unknowns needs them: factor, solve, invert, in place
// and without allocation but for the answer. Row-major, n × n; only the lower half is read and written by `factor`.
import { atDouble as at } from '#lib/base'

/**
 * Overwrites the lower half of `matrix` by L with L·Lᵀ = matrix (Cholesky, row by row). Returns false, with the matrix
 * in an unusable state, when it is not positive definite to machine precision.
 */
export function factor(matrix: Float64Array, n: number): boolean {
  for (let i = 0; i < n; i++) {
    const rowI = i * n
    for (let j = 0; j <= i; j++) {
      const rowJ = j * n
      let sum = at(matrix, rowI + j)
      for (let k = 0; k < j; k++) sum -= at(matrix, rowI + k) * at(matrix, rowJ + k)
      if (i !== j) matrix[rowI + j] = sum / at(matrix, rowJ + j)
      else if (sum > 0) matrix[rowI + i] = Math.sqrt(sum)
      else return false
    }
  }
  return true
}

/** Solves L·Lᵀ x = `vector` for a factored matrix; the vector becomes x. */
export function solve(lower: Float64Array, n: number, vector: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let sum = at(vector, i)
    for (let k = 0; k < i; k++) sum -= at(lower, i * n + k) * at(vector, k)
    vector[i] = sum / at(lower, i * n + i)
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = at(vector, i)
    for (let k = i + 1; k < n; k++) sum -= at(lower, k * n + i) * at(vector, k)
    vector[i] = sum / at(lower, i * n + i)
  }
}

/** The full inverse of the matrix whose factor is given: L⁻¹ first, then L⁻ᵀ·L⁻¹. */
export function inverse(lower: Float64Array, n: number): Float64Array {
  const inner = new Float64Array(n * n)
  for (let j = 0; j < n; j++) {
    inner[j * n + j] = 1 / at(lower, j * n + j)
    for (let i = j + 1; i < n; i++) {
      let sum = 0
      for (let k = j; k < i; k++) sum -= at(lower, i * n + k) * at(inner, k * n + j)
      inner[i * n + j] = sum / at(lower, i * n + i)
    }
  }
  const full = new Float64Array(n * n)
  for (let k = 0; k < n; k++) {
    for (let i = 0; i <= k; i++) {
      const left = at(inner, k * n + i)
      if (left === 0) continue
      for (let j = 0; j <= i; j++) full[i * n + j] = at(full, i * n + j) + left * at(inner, k * n + j)
    }
  }
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) full[j * n + i] = at(full, i * n + j)
  return full
}
