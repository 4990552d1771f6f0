// The normal distribution in double precision. Scores and chances are differences of nearly equal shares, where a
// distribution function good to seven places leaves none; tails are asked for by futures that are rare.
//
// erfc: W. J. Cody, Rational Chebyshev approximations for the error function, Math. Comp. 23 (1969) 631-637, in
// three ranges. Quantile: M. J. Wichura, Algorithm AS 241, Applied Statistics 37 (1988) 477-484, PPND16.

const SQRT_PI = Math.sqrt(Math.PI)
const SQRT_TWO_PI = Math.sqrt(2 * Math.PI)

/** Highest power first, as Horner's rule reads them. */
function polynomial(x: number, coefficients: readonly number[]): number {
  return coefficients.reduce((sum, coefficient) => sum * x + coefficient, 0)
}

const ERF_TOP = [0.18577770618460315, 3.1611237438705655, 113.86415415105016, 377.485237685302, 3209.3775891384694]
const ERF_BOTTOM = [1, 23.601290952344122, 244.02463793444417, 1282.6165260773723, 2844.236833439171]
const MIDDLE_TOP = [
  2.1531153547440383e-8, 0.5641884969886701, 8.883149794388377, 66.11919063714163, 298.6351381974001, 881.952221241769,
  1712.0476126340707, 2051.0783778260716, 1230.3393547979972,
]
const MIDDLE_BOTTOM = [
  1, 15.744926110709835, 117.6939508913125, 537.1811018620099, 1621.3895745666903, 3290.7992357334597,
  4362.619090143247, 3439.3676741437216, 1230.3393548037495,
]
const FAR_TOP = [
  0.016315387137302097, 0.30532663496123236, 0.36034489994980445, 0.12578172611122926, 0.016083785148742275,
  0.0006587491615298378,
]
const FAR_BOTTOM = [
  1, 2.568520192289822, 1.8729528499234673, 0.5279051029514285, 0.06051834131244132, 0.0023352049762686918,
]

/** 1 - erf(x), with a small relative error also where it is tiny. */
function erfc(x: number): number {
  const size = Math.abs(x)
  if (size <= 0.46875) {
    const square = x * x
    return 1 - (x * polynomial(square, ERF_TOP)) / polynomial(square, ERF_BOTTOM)
  }
  let tail: number
  if (size <= 4) tail = polynomial(size, MIDDLE_TOP) / polynomial(size, MIDDLE_BOTTOM)
  else {
    const inverse = 1 / (size * size)
    tail = (1 / SQRT_PI - (inverse * polynomial(inverse, FAR_TOP)) / polynomial(inverse, FAR_BOTTOM)) / size
  }
  // e^(-x²) in two parts, as Cody does: the square of a number rounded to sixteenths is exact.
  const rough = Math.trunc(size * 16) / 16
  tail *= Math.exp(-rough * rough) * Math.exp(-(size - rough) * (size + rough))
  return x < 0 ? 2 - tail : tail
}

/** Density of the standard normal distribution at `z`. */
export function normalDensity(z: number): number {
  return Math.exp((-z * z) / 2) / SQRT_TWO_PI
}

/** Probability that a standard normal value is at most `z`; relative error below 1e-14 down to z = -37. */
export function normalBelow(z: number): number {
  if (z === Number.NEGATIVE_INFINITY) return 0
  if (z === Number.POSITIVE_INFINITY) return 1
  return erfc(-z / Math.SQRT2) / 2
}

const CENTRE_TOP = [
  2509.0809287301227, 33430.57558358813, 67265.7709270087, 45921.95393154987, 13731.69376550946, 1971.5909503065513,
  133.14166789178438, 3.3871328727963665,
]
const CENTRE_BOTTOM = [
  5226.495278852854, 28729.085735721943, 39307.89580009271, 21213.794301586597, 5394.196021424751, 687.1870074920579,
  42.31333070160091, 1,
]
const SIDE_TOP = [
  0.0007745450142783414, 0.022723844989269184, 0.2417807251774506, 1.2704582524523684, 3.6478483247632045,
  5.769497221460691, 4.630337846156546, 1.4234371107496835,
]
const SIDE_BOTTOM = [
  1.0507500716444169e-9, 0.0005475938084995345, 0.015198666563616457, 0.14810397642748008, 0.6897673349851,
  1.6763848301838038, 2.053191626637759, 1,
]
const TAIL_TOP = [
  2.0103343992922881e-7, 0.000027115555687434876, 0.0012426609473880784, 0.026532189526576124, 0.29656057182850487,
  1.7848265399172913, 5.463784911164114, 6.657904643501103,
]
const TAIL_BOTTOM = [
  2.0442631033899397e-15, 1.421511758316446e-7, 0.000018463183175100548, 0.0007868691311456133, 0.014875361290850615,
  0.1369298809227358, 0.599832206555888, 1,
]

/** The standard normal value that is not exceeded with this probability; infinite at 0 and 1. */
export function normalQuantile(probability: number): number {
  if (probability <= 0) return Number.NEGATIVE_INFINITY
  if (probability >= 1) return Number.POSITIVE_INFINITY
  const off = probability - 0.5
  if (Math.abs(off) <= 0.425) {
    const r = 0.180625 - off * off
    return (off * polynomial(r, CENTRE_TOP)) / polynomial(r, CENTRE_BOTTOM)
  }
  const r = Math.sqrt(-Math.log(off < 0 ? probability : 1 - probability))
  const size =
    r <= 5
      ? polynomial(r - 1.6, SIDE_TOP) / polynomial(r - 1.6, SIDE_BOTTOM)
      : polynomial(r - 5, TAIL_TOP) / polynomial(r - 5, TAIL_BOTTOM)
  return off < 0 ? -size : size
}
