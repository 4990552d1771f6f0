/**
 * "Draw up the week": the open days of a span, so drawn that no early day spends what a later one needs more. Posted days
 * are left alone; the turns that they have count as spent.
 *
 * What is made large is the sum of the days' scores, each day scored as it would be on its morning: with the hands and
 * the fairness of the days before it, and the pieces where those left them. A step has as many turns over the whole span
 * as its estimated hours bear; that it gets finished and opens the next one is not assumed. Two weeks are drawn, day
 * after day and with the turns shared (share-turns.ts), and the better one is the answer: it is never worse than day
 * after day. No proof of the best week is given.
 */
import { addDays, minuteOf } from '#lib/base'
import { assignmentsOn, isFinished, isHeldOn, labOf, pieceOf, turnId } from '#lib/rules'
import { type Change, put, type Records, withChanges } from '#lib/words'
import { type BuildOptions, buildProblem } from '../build.ts'
import type { Problem } from '../problem.ts'
import { type Proposal, type ProposedTurn, propose } from '../propose.ts'
import { DEFAULT_SEED, solve, stepsFor } from '../solve/index.ts'
import { stepKey } from './cap-turns.ts'
import { type Shares, shareTurns } from './share-turns.ts'

export interface WeekOptions extends Omit<BuildOptions, 'from' | 'turnsMax'> {
  /** First date, and how many days from there. */
  readonly first: string
  readonly days: number
  /** Durable position of the records. */
  readonly seq: number
  readonly seed?: number
  /** Search steps of one day; the days' own measure when not given. */
  readonly steps?: number
  /** Told the week drawn day after day, as soon as it is there. */
  readonly onBetter?: (week: Week) => void
  readonly isCancelled?: () => boolean
}

export interface WeekDay {
  readonly date: string
  /** open: drawn here. posted: stays as it is. closed: no shift is held, or all are over. */
  readonly state: 'open' | 'posted' | 'closed'
  /** Only of an open day; its reasons are left to whoever opens the day. */
  readonly proposal: Proposal | null
  /** Steps of which the day may not have more turns, because other days need them. */
  readonly limits: readonly TurnLimit[]
  /** Turns of the day, posted or proposed. */
  readonly turns: number
}

/** Most turns of a step on one day. */
export interface TurnLimit {
  readonly pieceId: string
  readonly stepId: string
  readonly turns: number
}

/** A day as drawn, and what it was not to take. */
interface Drawn {
  readonly proposal: Proposal
  readonly limits: readonly TurnLimit[]
}
type Days = ReadonlyMap<string, Drawn>

/** Turns that an early day could have had and a later one gets. */
interface KeptTurns {
  readonly date: string
  readonly pieceId: string
  readonly stepId: string
  readonly personIds: readonly string[]
  readonly turns: number
}

export interface Week {
  readonly days: readonly WeekDay[]
  /** Sum of the open days' scores, and the same for days drawn one after the other. */
  readonly score: number
  readonly dayByDayScore: number
  /** What is kept for later days that would be gone if the days were drawn one after the other. */
  readonly kept: readonly KeptTurns[]
}

/** Draws the open days of a span together. */
export function drawWeek(records: Records, options: WeekOptions): Week {
  const dates = Array.from({ length: options.days }, (_, i) => addDays(options.first, i))
  const open = dates.filter((date) => stateOf(records, date, options.now) === 'open')
  const problems = open.map((date) => buildProblem(records, date, options).problem)
  const left = turnsLeft(records, dates, problems)
  const greedy = chain(records, open, left, null, options)
  const present = (days: Days): Week => weekOf(records, dates, days, greedy, options)
  options.onBetter?.(present(greedy))
  if (open.length < 2) return present(chain(records, open, left, null, { ...options, isExplained: true }))
  const { seed = DEFAULT_SEED, steps, isCancelled } = options
  const shares = shareTurns(problems, left, (problem) =>
    solve(problem, {
      seed,
      // Many days are tried; the week itself is drawn with all its steps afterwards.
      steps: Math.ceil((steps ?? stepsFor(problem)) / 4),
      ...(isCancelled === undefined ? {} : { isCancelled }),
    }),
  )
  const shared = chain(records, open, left, shares, { ...options, isExplained: true })
  return present(
    sumOf(shared) > sumOf(greedy) ? shared : chain(records, open, left, null, { ...options, isExplained: true }),
  )
}

function stateOf(records: Records, date: string, now: BuildOptions['now']): WeekDay['state'] {
  if (records.day.has(date)) return 'posted'
  const minute = now?.date === date ? now.minute : -1
  const shifts = labOf(records)?.shifts ?? []
  return shifts.some((shift) => isHeldOn(records, shift, date) && minuteOf(shift.end) > minute) ? 'open' : 'closed'
}

/** Turns of each step over the whole span; those of posted days that are still to be worked are spent. */
function turnsLeft(records: Records, dates: readonly string[], problems: readonly Problem[]): Map<string, number> {
  const left = new Map<string, number>()
  for (const { pieces } of problems) {
    for (const piece of pieces) {
      for (const step of piece.steps) {
        const key = stepKey({ piece: piece.id, step: step.id })
        left.set(key, Math.max(left.get(key) ?? 0, step.turnsLeft))
      }
    }
  }
  for (const date of dates) {
    if (!records.day.has(date)) continue
    for (const turn of assignmentsOn(records, date)) {
      const key = stepKey({ piece: turn.pieceId, step: turn.stepId })
      if (!isFinished(records, turn.id)) left.set(key, Math.max(0, (left.get(key) ?? 0) - 1))
    }
  }
  return left
}

/** The open days one after the other, each on what the ones before it leave, and leaving what later ones have a share of. */
function chain(
  records: Records,
  open: readonly string[],
  left: ReadonlyMap<string, number>,
  shares: readonly Shares[] | null,
  options: WeekOptions & { readonly isExplained?: boolean },
): Days {
  const { onBetter: _, isExplained = false, ...common } = options
  const over = new Map(left)
  const drawn = new Map<string, Drawn>()
  let now = records
  open.forEach((date, day) => {
    const turnsMax = new Map(over)
    for (const share of shares?.slice(day + 1) ?? []) {
      for (const [key, turns] of share) turnsMax.set(key, Math.max(0, (turnsMax.get(key) ?? 0) - turns))
    }
    const proposal = propose(now, date, { ...common, turnsMax, isExplained })
    for (const turn of proposal.assignments) {
      const key = stepKey({ piece: turn.pieceId, step: turn.stepId })
      over.set(key, Math.max(0, (over.get(key) ?? 0) - 1))
    }
    const limited = new Set(shares?.slice(day + 1).flatMap((share) => [...share.keys()]))
    drawn.set(date, {
      proposal: { ...proposal, reasons: [] },
      limits: [...limited].flatMap((key) => limitOf(key, turnsMax.get(key) ?? 0)),
    })
    now = withChanges(now, carried(now, date, proposal.assignments))
  })
  return drawn
}

function limitOf(key: string, turns: number): TurnLimit[] {
  const [pieceId, stepId] = key.split('\n')
  return pieceId === undefined || stepId === undefined ? [] : [{ pieceId, stepId, turns }]
}

/** The limits as the builder of a day's problem reads them. */
export const turnsMaxOf = (limits: readonly TurnLimit[]): ReadonlyMap<string, number> =>
  new Map(limits.map(({ pieceId, stepId, turns }) => [stepKey({ piece: pieceId, step: stepId }), turns]))

/** A day as it will have been: seats for fairness and hands, pieces at the places where they were worked on last. */
function carried(records: Records, date: string, turns: readonly ProposedTurn[]): readonly Change[] {
  const order = labOf(records)?.shifts.map(({ id }): string => id) ?? []
  const placeOf = new Map<string, ProposedTurn>()
  for (const turn of turns.toSorted((a, b) => order.indexOf(a.shiftId) - order.indexOf(b.shiftId))) {
    placeOf.set(turn.pieceId, turn)
  }
  return [
    ...turns.map(({ shiftId, personId, pieceId, stepId, placeId, how }) =>
      put('assignment', {
        ...{ id: turnId(date, shiftId, personId), date, shiftId, personId, pieceId, stepId, placeId, how },
        ...{ by: personId, at: `${date}T00:00:00.000Z` },
      }),
    ),
    ...[...placeOf.values()].flatMap(({ pieceId, placeId }): Change[] => {
      const piece = pieceOf(records, pieceId)
      if (!piece || piece.isTied || piece.placeId === placeId) return []
      return 'stage' in piece ? [put('specimen', { ...piece, placeId })] : [put('jacket', { ...piece, placeId })]
    }),
  ]
}

const sumOf = (days: Days): number => [...days.values()].reduce((sum, { proposal }) => sum + proposal.score, 0)

function weekOf(records: Records, dates: readonly string[], days: Days, greedy: Days, { now }: WeekOptions): Week {
  return {
    days: dates.map((date): WeekDay => {
      const { proposal, limits } = days.get(date) ?? { proposal: null, limits: [] }
      const turns = proposal ? proposal.assignments.length : assignmentsOn(records, date).length
      return { date, state: stateOf(records, date, now), proposal, limits, turns }
    }),
    score: sumOf(days),
    dayByDayScore: sumOf(greedy),
    kept: days === greedy ? [] : keptFor(days, greedy),
  }
}

/** Steps of which a later day has more turns than it would have had, and earlier days fewer. */
function keptFor(days: Days, greedy: Days): readonly KeptTurns[] {
  const usesOf = (proposal: Proposal | undefined, stepId: string) =>
    proposal?.assignments.filter((turn) => turn.stepId === stepId) ?? []
  const spared = new Map<string, number>()
  const kept: KeptTurns[] = []
  for (const [date, { proposal }] of days) {
    const alone = greedy.get(date)?.proposal
    const steps = new Map([...proposal.assignments, ...(alone?.assignments ?? [])].map((turn) => [turn.stepId, turn]))
    for (const [stepId, { pieceId }] of steps) {
      const own = usesOf(proposal, stepId)
      const more = own.length - usesOf(alone, stepId).length
      const before = spared.get(stepId) ?? 0
      const turns = Math.min(Math.max(0, more), before)
      spared.set(stepId, before - more)
      if (turns > 0) kept.push({ date, pieceId, stepId, personIds: own.map(({ personId }) => personId), turns })
    }
  }
  return kept
}
