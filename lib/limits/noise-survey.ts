// A day's noise level from measurements, by ISO 9612:2009, with what it may be off by. Task-based: clause 9; job-based:
// clause 10; uncertainty: Annex C. It is a lab's measurement with date and instrument; nothing here is a default level.
import { noiseLevel } from './noise.ts'
import type { Dba, Minutes } from './units.ts'

const DAY_MINUTES: Minutes = 480
/** Standard uncertainty of a personal exposimeter or a class 2 meter, dB (Table C.5); a class 1 meter has 0.7. */
const INSTRUMENT_DB = 1.5
/** Standard uncertainty of where the microphone sits, dB (Annex C.6). */
const POSITION_DB = 1
/** One-sided 95 % coverage (Annex C.1). */
const COVERAGE = 1.65
/** Samples of one task further apart than this ask for more of them (clause 9.3). */
const SPREAD_DB = 3

export interface NoiseTask {
  /** L_p,A,eqT of each sample; one is taken as exact, which Annex C allows for steady tasks only. */
  readonly samplesDba: readonly Dba[]
  /** Above 0. */
  readonly minutes: Minutes
  /** Shortest and longest that the task lasts, when known: then the duration's uncertainty counts too. */
  readonly fromMinutes?: Minutes | undefined
  readonly toMinutes?: Minutes | undefined
}

export interface NoiseSurvey {
  readonly taskDba: readonly Dba[]
  readonly contributionDba: readonly Dba[]
  readonly levelDba: Dba
  /** Expanded uncertainty U: with 95 % confidence the level is not above levelDba + U. */
  readonly uncertaintyDb: number
  /** Tasks whose samples lie 3 dB or more apart. */
  readonly needsMore: readonly boolean[]
}

/**
 * Task-based daily level: L_m = 10·lg mean(10^(L/10)) (equation 7), contribution L_m + 10·lg(T_m / 8 h) (8), their
 * energies added (9, 10). u² = Σ c1a²·(u1a² + u2² + u3²) + (c1b·u1b)² (C.3), U = 1.65·u.
 * @param tasks at least one, each with at least one sample
 */
export function noiseByTasks(tasks: readonly NoiseTask[], instrumentDb = INSTRUMENT_DB): NoiseSurvey {
  const taskDba = tasks.map(({ samplesDba }) => meanLevel(samplesDba))
  const contributionDba = tasks.map(({ minutes }, m) => (taskDba[m] ?? 0) + 10 * Math.log10(minutes / DAY_MINUTES))
  const levelDba = 10 * Math.log10(contributionDba.reduce((sum, level) => sum + 10 ** (level / 10), 0))
  let variance = 0
  for (const [m, { samplesDba, minutes, fromMinutes = minutes, toMinutes = minutes }] of tasks.entries()) {
    const c1a = 10 ** (((contributionDba[m] ?? 0) - levelDba) / 10)
    const u1a = Math.sqrt(squaresAround(samplesDba) / (samplesDba.length * Math.max(1, samplesDba.length - 1)))
    const c1b = (4.34 * c1a) / minutes
    const u1b = (toMinutes - fromMinutes) / 2
    variance += c1a ** 2 * (u1a ** 2 + instrumentDb ** 2 + POSITION_DB ** 2) + (c1b * u1b) ** 2
  }
  const needsMore = tasks.map(({ samplesDba }) => Math.max(...samplesDba) - Math.min(...samplesDba) >= SPREAD_DB)
  return { taskDba, contributionDba, levelDba, uncertaintyDb: COVERAGE * Math.sqrt(variance), needsMore }
}

/**
 * Job-based daily level: samples taken at random over the day of people with the same job. Mean by energy, level
 * mean + 10·lg(T / 8 h) (equations 11 and 12), u1 the samples' standard deviation (C.12).
 * @param samplesDba at least two; the standard asks for five of a job, or three whole days
 */
export function noiseByJob(samplesDba: readonly Dba[], minutes: Minutes) {
  const meanDba = meanLevel(samplesDba)
  return {
    meanDba,
    levelDba: meanDba + 10 * Math.log10(minutes / DAY_MINUTES),
    u1Db: Math.sqrt(squaresAround(samplesDba) / (samplesDba.length - 1)),
  }
}

function meanLevel(samplesDba: readonly Dba[]): Dba {
  const minutes = DAY_MINUTES / samplesDba.length
  return noiseLevel(samplesDba.map((levelDba) => ({ levelDba, minutes }))) ?? Number.NEGATIVE_INFINITY
}

/** Sum of squared distances from the plain mean, as Annex C takes it. */
function squaresAround(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0)
}
