// How many hours a week a piece gets. What it got lately is the best witness; with little of that, what the lab gives
// to pieces at the same sort of work. Logs count when they are at hand (they live on sheets, not on the board); else
// the hours of the present stage since it was reached.
import { daysBetween } from '#lib/base'
import type { RecordOf, Records, Stage, Technique } from '#lib/words'
import { type HoursOutlook, hoursOutlook } from './left.ts'
import type { Spread } from './spread.ts'

/** Weekly hours of every piece, and what is known of hours left; made once for many pieces. */
export interface Pace {
  readonly outlook: HoursOutlook
  readonly weeklyOf: (pieceId: string) => WeeklyHours | null
}

export interface WeeklyHours {
  readonly hours: Spread
  /** own: mostly what the piece itself got. lab: mostly what such pieces get. */
  readonly basis: 'own' | 'lab'
}

/** Hours worked and the weeks in which they were. */
interface History {
  readonly hours: number
  readonly weeks: number
}

/** Weeks of a piece's own history that weigh as much as the lab's mean. */
const PRIOR_WEEKS = 3
/** Weeks looked back on when logs are at hand. */
const LOOK_BACK_DAYS = 56
/** Absences, rooms in use, other work: the share by which a long stretch of weeks differs from the last one. */
const ABSENCE_LOG_SD = 0.22
/** What is not known about a pace that is all the lab's and none of the piece's own. */
const STRANGER_LOG_SD = 0.6

/** The lab's pace as of today. `logs` may hold any number of logs; without any the steps alone are read. */
export function paceOf(records: Records, today: string, logs: readonly RecordOf<'log'>[] = []): Pace {
  const steps = new Map<string, RecordOf<'step'>[]>()
  for (const step of records.step.values()) push(steps, step.pieceId, step)
  const logsOf = new Map<string, RecordOf<'log'>[]>()
  const corrected = new Set(logs.map((log) => log.corrects))
  for (const log of logs) if (!corrected.has(log.id)) push(logsOf, log.pieceId, log)

  const own = new Map<string, History>()
  const byTechnique = new Map<string, History>()
  let all: History = { hours: 0, weeks: 0 }
  for (const specimen of records.specimen.values()) {
    const mine = steps.get(specimen.id) ?? []
    const history = historyOf(records, specimen, mine, logsOf.get(specimen.id) ?? [], today)
    const technique = presentTechnique(mine)
    if (history === null) continue
    own.set(specimen.id, history)
    if (technique === null || history.hours === 0) continue
    byTechnique.set(technique, sumOf(byTechnique.get(technique), history))
    all = sumOf(all, history)
  }

  const weeklyOf = (pieceId: string): WeeklyHours | null => {
    const technique = presentTechnique(steps.get(pieceId) ?? [])
    const group = technique === null ? undefined : byTechnique.get(technique)
    const usual = (group && perWeek(group)) ?? perWeek(all)
    const mine = own.get(pieceId) ?? { hours: 0, weeks: 0 }
    if (usual === null && mine.hours === 0) return null
    const weeks = mine.weeks + (usual === null ? 0 : PRIOR_WEEKS)
    const median = (mine.hours + (usual ?? 0) * (weeks - mine.weeks)) / weeks
    if (median <= 0) return null
    const logSd = Math.hypot(ABSENCE_LOG_SD, STRANGER_LOG_SD * Math.sqrt(PRIOR_WEEKS / (PRIOR_WEEKS + mine.weeks)))
    return { hours: { median, logSd }, basis: mine.weeks >= PRIOR_WEEKS ? 'own' : 'lab' }
  }
  return { outlook: hoursOutlook(records), weeklyOf }
}

/** Hours and weeks in which a specimen was in work; null for one that is not. */
function historyOf(
  records: Records,
  specimen: RecordOf<'specimen'>,
  steps: readonly RecordOf<'step'>[],
  logs: readonly RecordOf<'log'>[],
  today: string,
): History | null {
  if (logs.length > 0) {
    const age = Math.max(...logs.map((log) => daysBetween(log.date, today)))
    const days = Math.min(LOOK_BACK_DAYS, Math.max(7, age))
    const recent = logs.filter((log) => daysBetween(log.date, today) <= days)
    return { hours: hoursOf(recent), weeks: days / 7 }
  }
  if (!steps.some((step) => step.state === 'begun')) return null
  const groups = groupsOfStage[specimen.stage]
  const ofStage = steps.filter((step) => {
    const group = records.lab.get('lab')?.techniques.find(({ id }) => id === step.techniqueId)?.group
    return groups === undefined ? step.state === 'begun' : group !== undefined && groups.includes(group)
  })
  const minutes = ofStage.map(({ doneMinutes }) => ({ minutes: doneMinutes }))
  return { hours: hoursOf(minutes), weeks: Math.max(1, daysBetween(specimen.stageSince, today) / 7) }
}

/** Work that is done within a stage, and so since it was reached; at other stages only what is begun counts. */
const groupsOfStage: Partial<Record<Stage, readonly Technique['group'][]>> = {
  exposing: ['exposing', 'consolidating'],
  joining: ['joining'],
}

/** The technique a piece is at, or would be next. */
function presentTechnique(steps: readonly RecordOf<'step'>[]): string | null {
  const inOrder = steps.toSorted((a, b) => a.rank - b.rank)
  const present = inOrder.find(({ state }) => state === 'begun') ?? inOrder.find(({ state }) => state === 'waiting')
  return present?.techniqueId ?? null
}

const sumOf = (a: History | undefined, b: History): History => ({
  hours: (a?.hours ?? 0) + b.hours,
  weeks: (a?.weeks ?? 0) + b.weeks,
})

const hoursOf = (list: readonly { readonly minutes: number }[]): number =>
  list.reduce((sum, { minutes }) => sum + minutes, 0) / 60

const perWeek = ({ hours, weeks }: History): number | null => (weeks > 0 && hours > 0 ? hours / weeks : null)

function push<T>(lists: Map<string, T[]>, key: string, entry: T): void {
  const list = lists.get(key)
  if (list) list.push(entry)
  else lists.set(key, [entry])
}
