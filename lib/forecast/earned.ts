// Earned value: hours' worth of work done, against what was planned by now and what it took. Usual project-control
// definitions (as in ANSI/EIA-748 and its textbooks): CPI = EV / AC, SPI = EV / PV, EAC = BAC / CPI, ETC = EAC − AC,
// VAC = BAC − EAC.

/** All four in one unit, hours here. */
export interface EarnedValueInput {
  /** Worth of the work planned by now (PV). */
  readonly planned: number
  /** Worth of the work done (EV). */
  readonly earned: number
  /** What it took (AC). */
  readonly actual: number
  /** Worth of the whole (BAC). */
  readonly budget: number
}

export interface EarnedValue {
  readonly costIndex: number
  readonly scheduleIndex: number
  readonly costVariance: number
  readonly scheduleVariance: number
  readonly estimateAtEnd: number
  readonly toGo: number
  /** Budget less the estimate at the end; below nought when it will take more. */
  readonly variance: number
}

/** The usual figures; null where a ratio has no bottom: nothing planned, nothing spent or nothing earned. */
export function earnedValue({ planned, earned, actual, budget }: EarnedValueInput): EarnedValue | null {
  if (planned <= 0 || earned <= 0 || actual <= 0) return null
  const estimateAtEnd = (budget * actual) / earned
  return {
    costIndex: earned / actual,
    scheduleIndex: earned / planned,
    costVariance: earned - actual,
    scheduleVariance: earned - planned,
    estimateAtEnd,
    toGo: estimateAtEnd - actual,
    variance: budget - estimateAtEnd,
  }
}
