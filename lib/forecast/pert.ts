// Three typed hours as mean and spread: PERT (Malcolm, Roseboom, Clark & Fazar 1959).

export interface Estimate {
  readonly lowH: number
  readonly likelyH: number
  readonly highH: number
}

export interface Moments {
  readonly mean: number
  readonly sd: number
}

/** PERT: mean (a + 4m + b) / 6, standard deviation (b − a) / 6. */
export function pertStep({ lowH, likelyH, highH }: Estimate): Moments {
  return { mean: (lowH + 4 * likelyH + highH) / 6, sd: Math.abs(highH - lowH) / 6 }
}

/**
 * Means add; standard deviations add in quadrature when the steps are independent (`linkage` 0), and plainly when one
 * misjudgement makes all of them longer (`linkage` 1).
 */
export function pertPath(steps: readonly Moments[], linkage = 0): Moments {
  const mean = steps.reduce((sum, step) => sum + step.mean, 0)
  const apart = steps.reduce((sum, step) => sum + step.sd ** 2, 0)
  const together = steps.reduce((sum, step) => sum + step.sd, 0) ** 2
  return { mean, sd: Math.sqrt(apart + linkage * (together - apart)) }
}
