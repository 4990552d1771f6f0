/**
 * `solve -- season FILE… [--schedules N | --seconds S] [--seed S]`: published projects (`.sm`, `.mm`, `.dzn`, `.def`, job-shop
 * text), one line of JSON a file. Each answer is gone over by the checker before it is printed.
 */
import { readFileSync } from 'node:fs'
import { performance } from 'node:perf_hooks'
import {
  checkCrew,
  checkProject,
  checkShop,
  type Parsed,
  parseCrewData,
  parseCrewTasks,
  parsePsplib,
  parseShop,
  solveCrew,
  solveProject,
  solveShop,
} from '#lib/season'

export interface SeasonBudget {
  readonly schedules: number | null
  readonly seconds: number | null
  readonly seed: number
}

export interface SeasonAnswer {
  readonly file: string
  readonly objective: number
  readonly lowerBound: number
  readonly schedules: number
  readonly seconds: number
  readonly start: readonly number[]
  readonly mode?: readonly number[]
  readonly resource?: readonly (readonly number[])[]
}

export type SeasonResult =
  | { readonly kind: 'answer'; readonly answer: SeasonAnswer; readonly faults: readonly string[] }
  | { readonly kind: 'refused'; readonly why: string }

/** Schedules where neither a number nor seconds are asked for. */
const SCHEDULES = 50_000

/** Reads, solves and checks one file. */
export function solveFile(file: string, { schedules, seconds, seed }: SeasonBudget): SeasonResult {
  let text: string
  try {
    text = readFileSync(file, 'utf8')
  } catch (error) {
    return refused(`cannot be read: ${error instanceof Error ? error.message : String(error)}`)
  }
  const began = performance.now()
  const until = seconds === null ? Number.POSITIVE_INFINITY : began + seconds * 1000
  const budget = {
    seed,
    schedules: schedules ?? (seconds === null ? SCHEDULES : 1e15),
    isCancelled: () => performance.now() > until,
  }
  const done = (answer: { length: number; bound: number; schedules: number }) => ({
    file,
    objective: answer.length,
    lowerBound: answer.bound,
    schedules: Math.ceil(answer.schedules),
    seconds: Math.round(performance.now() - began) / 1000,
  })
  const kind = file.toLowerCase().replace(/^.*\./, '')
  if (kind === 'sm' || kind === 'mm') {
    return withProject(parsePsplib(text), (project) => {
      const { start, mode, ...answer } = solveProject(project, budget)
      if (start === null) return refused('no modes within its stocks were found')
      const faults = checkProject(project, start, mode, answer.length)
      return { kind: 'answer', answer: { ...done(answer), start, mode }, faults }
    })
  }
  if (kind === 'dzn' || kind === 'def') {
    return withProject(kind === 'dzn' ? parseCrewData(text) : parseCrewTasks(text), (project) => {
      const { start, people, ...answer } = solveCrew(project, budget)
      if (start === null) return refused('some activity can never be staffed')
      const faults = checkCrew(project, start, people, answer.length)
      return { kind: 'answer', answer: { ...done(answer), start, resource: people }, faults }
    })
  }
  return withProject(parseShop(text), (shop) => {
    const { start, ...answer } = solveShop(shop, budget)
    return { kind: 'answer', answer: { ...done(answer), start }, faults: checkShop(shop, start, answer.length) }
  })
}

/** Prints a line a file; returns the exit code. */
export function season(files: readonly string[], budget: SeasonBudget): number {
  let code = 0
  for (const file of files) {
    const result = solveFile(file, budget)
    if (result.kind === 'answer' && result.faults.length === 0) {
      process.stdout.write(`${JSON.stringify(result.answer)}\n`)
      continue
    }
    code = 1
    const why = result.kind === 'refused' ? result.why : `the answer breaks a rule: ${result.faults.join('; ')}`
    process.stdout.write(`${JSON.stringify({ file, refused: why })}\n`)
  }
  return code
}

function withProject<T>(read: Parsed<T>, solveIt: (project: T) => SeasonResult): SeasonResult {
  return read.isGood ? solveIt(read.value) : refused(`line ${read.fault.line}: ${read.fault.message}`)
}

function refused(why: string): SeasonResult {
  return { kind: 'refused', why }
}
