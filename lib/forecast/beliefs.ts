// What the hours model believes of its own scales before anything is seen, beside the effects of the facts (practice.ts):
// how much one step, one piece, one technique, one pair of hands differs from another, and what a typed estimate is worth.

/** One cell of a row: a column by its key, and the value it is multiplied by. */
export interface Cell {
  readonly key: string
  readonly value: number
}

/** Variances and the weight of typed estimates: what EM finds, and where the next fit starts. */
export interface Scales {
  /** Of a step without and with a typed estimate. */
  readonly noise: readonly [number, number]
  readonly piece: number
  readonly technique: number
  readonly hands: number
  readonly year: number
  /** Weight of a typed estimate against the facts, 0 to 1. */
  readonly trust: number
}

/** Scaled inverse chi-square beliefs about variances: usual standard deviation, and the steps it weighs as much as. */
export const beliefs = {
  noise: [
    { sd: 0.5, weight: 4 },
    { sd: 0.4, weight: 3 },
  ],
  piece: { sd: 0.3, weight: 4 },
  technique: { sd: 0.35, weight: 6 },
  hands: { sd: 0.2, weight: 6 },
  year: { sd: 0.05, weight: 24 },
} as const
export const usualTrust = { mean: 0.65, sd: 0.3 }

export const usualScales: Scales = {
  noise: [beliefs.noise[0].sd ** 2, beliefs.noise[1].sd ** 2],
  piece: beliefs.piece.sd ** 2,
  technique: beliefs.technique.sd ** 2,
  hands: beliefs.hands.sd ** 2,
  year: beliefs.year.sd ** 2,
  trust: usualTrust.mean,
}

/** Bias of typed estimates, and what the weight's own uncertainty multiplies; beside the effects of the caller. */
export const BIAS = 'typed'
export const TRUST = 'trust'
export const biasSd = 0.35
/** Where the years begin: all before is one level. */
export const FIRST_YEAR_SD = 0.3

/** Log hours for each unit of ln(1 + finished steps at the technique); 90 % for each doubling would be −0.15. */
export const LEARNING = { key: 'learning', mean: -0.08, sd: 0.08 }
/** The present stretch of the years, as the model has it. */
export const YEAR = 'year'
