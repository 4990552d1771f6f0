// The replayed year written into records: logs on the sheets, totals in the steps and tallies, stages with their
// entries, the last days' line-ups, and what of it all lies on the board or rests in the archive.
import { addDays, daysBetween, minuteOf } from '#lib/base'
import type { Change } from '#lib/words'
import { type Dice, type Draft, groupBy, instant, record } from './dice.ts'
import { writeEntries } from './entries.ts'
import { demoLately } from './lately.ts'
import type { Project } from './plan.ts'
import type { Year } from './year.ts'

/** Days for which assignments stay on the board, as the start of each day leaves them. */
const DAYS_ON_BOARD = 7

export interface Written {
  readonly changes: readonly Change[]
  /** Pieces on the board as written, by id. */
  readonly specimens: readonly Draft<'specimen'>[]
  readonly jackets: readonly Draft<'jacket'>[]
  readonly steps: readonly Draft<'step'>[]
}

interface Around {
  readonly lab: Draft<'lab'>
  readonly places: readonly Draft<'place'>[]
  readonly today: string
}

/** Writes the year down. */
export function writeYear(projects: readonly Project[], year: Year, around: Around, chance: Dice): Written {
  const logs = withCorrection(year.logs)
  const logsOf = groupBy(logs, (log) => log.pieceId)
  const lies = piecesAtPlaces(projects, logs, year.tiedAt, around)
  const changes: Change[] = logs.map((log) => record('log', log))
  const written: { specimens: Draft<'specimen'>[]; jackets: Draft<'jacket'>[]; steps: Draft<'step'>[] } = {
    specimens: [],
    jackets: [],
    steps: [],
  }
  for (const project of projects) {
    const own = logsOf.get(project.id) ?? []
    const jacketLogs = project.waitsForId === null ? [] : (logsOf.get(project.waitsForId) ?? [])
    const opening = jacketLogs.filter((log) => log.techniqueId === 'opening')
    const steps = project.steps.map(({ step, isFinal }) => stepAfter(step, isFinal, own))
    const placeId = lies.get(project.id) ?? null
    const jacket = project.jacket && { ...project.jacket, placeId }
    const staged = project.specimen && writeEntries(project.specimen, steps, own, opening, around, chance)
    if (staged) changes.push(...staged.entries.map((entry) => record('entry', entry)))
    const isTied = placeId !== null && year.tiedAt.get(placeId) === project.id
    const specimen = staged && { ...staged.specimen, placeId, isTied }
    if (rests(project, around.today, own)) {
      const resting = { id: project.id, jacket, specimen, steps, dues: [], escalations: [], questions: [], watches: [] }
      changes.push(record('resting', { ...resting, since: own.at(-1)?.date ?? addDays(around.today, -200) }))
      continue
    }
    if (jacket) written.jackets.push(jacket)
    if (specimen) written.specimens.push(specimen)
    written.steps.push(...steps)
  }
  const pieces = [
    ...written.jackets.map((jacket) => record('jacket', jacket)),
    ...written.specimens.map((specimen) => record('specimen', specimen)),
  ]
  changes.push(
    ...pieces,
    ...demoLately(logs, pieces, around.today),
    ...written.steps.map((step) => record('step', step)),
    ...tallies(logs).map((tally) => record('tally', tally)),
    ...lastDays(logs, around),
  )
  return { changes, ...written }
}

/** One log was written down wrong and corrected the same day, as happens. */
function withCorrection(logs: readonly Draft<'log'>[]): readonly Draft<'log'>[] {
  const wrong = logs.findLast((log) => log.minutes === 120) ?? logs.at(-1)
  if (!wrong) return logs
  const note = 'Half an hour more than written: the clock was stopped at the break.'
  return [...logs, { ...wrong, id: `${wrong.id}-again`, minutes: wrong.minutes + 30, note, corrects: wrong.id }]
}

/** Logs that stand: not corrected by a later one. */
function standing(logs: readonly Draft<'log'>[]): readonly Draft<'log'>[] {
  const corrected = new Set(logs.map((log) => log.corrects))
  return logs.filter((log) => !corrected.has(log.id))
}

function stepAfter(step: Draft<'step'>, isFinal: boolean, logs: readonly Draft<'log'>[]): Draft<'step'> {
  const own = standing(logs.filter((log) => log.stepId === step.id))
  const doneMinutes = own.reduce((sum, log) => sum + log.minutes, 0)
  const minutesBy = new Map<string, number>()
  for (const log of own) minutesBy.set(log.personId, (minutesBy.get(log.personId) ?? 0) + log.minutes)
  return {
    ...step,
    doneMinutes,
    state: doneMinutes === 0 ? (isFinal ? 'dropped' : 'waiting') : isFinal ? 'done' : 'begun',
    by: [...minutesBy]
      .map(([personId, minutes]) => ({ personId, minutes }))
      .sort((a, b) => b.minutes - a.minutes || (a.personId < b.personId ? -1 : 1)),
  }
}

/** Sealed jackets outside the season's choice, emptied ones, and released specimens of more than three weeks ago. */
function rests(project: Project, today: string, logs: readonly Draft<'log'>[]): boolean {
  const last = logs.at(-1)?.date ?? '2000-01-01'
  if (project.jacket?.state === 'empty') return daysBetween(last, today) > 120
  if (project.jacket) return !project.jacket.isInSeason
  return project.specimen?.stage === 'released' && daysBetween(last, today) > 21
}

/** Where pieces of the last days were left: the latest at each exclusive place, within what the furniture bears. */
function piecesAtPlaces(
  projects: readonly Project[],
  logs: readonly Draft<'log'>[],
  tiedAt: ReadonlyMap<string, string>,
  { places, today }: Around,
): ReadonlyMap<string, string> {
  const lies = new Map([...tiedAt].map(([placeId, pieceId]) => [pieceId, placeId]))
  const loadOf = new Map<string, number>()
  for (const placeId of tiedAt.keys()) loadOf.set(placeId, 0)
  const recent = logs.filter((log) => daysBetween(log.date, today) <= 4)
  for (const log of recent.toReversed()) {
    const place = places.find(({ id }) => id === log.placeId)
    const project = projects.find(({ id }) => id === log.pieceId)
    const piece = project?.specimen ?? project?.jacket
    if (!place || !piece || lies.has(piece.id) || place.closedUntil !== null) continue
    const load = loadOf.get(place.id)
    const kg = piece.mass.weighedKg ?? piece.mass.highKg
    if (load !== undefined && (place.isExclusive || load + kg > place.loadKgMax)) continue
    loadOf.set(place.id, (load ?? 0) + kg)
    lies.set(piece.id, place.id)
  }
  return lies
}

function tallies(logs: readonly Draft<'log'>[]): Draft<'tally'>[] {
  const tallyOf = new Map<string, Draft<'tally'>>()
  for (const log of standing(logs)) {
    const year = Number(log.date.slice(0, 4))
    const id = `${year}.${log.personId}`
    const tally = tallyOf.get(id) ?? { id, personId: log.personId, year, minutes: 0, stretches: 0 }
    tallyOf.set(id, { ...tally, minutes: tally.minutes + log.minutes, stretches: tally.stretches + 1 })
  }
  return [...tallyOf.values()]
}

/** The posted line-ups of the last days: those who worked, where they worked. */
function lastDays(logs: readonly Draft<'log'>[], { lab, today }: Around): Change[] {
  const changes: Change[] = []
  const recent = standing(logs).filter((log) => daysBetween(log.date, today) <= DAYS_ON_BOARD)
  for (const [date, ofDay] of groupBy(recent, (log) => log.date)) {
    const at = instant(lab.zone, date, minuteOf('09:05'))
    changes.push(record('day', { id: date, postedAt: at, postedBy: 'thea', times: 1, note: '' }))
    for (const { shiftId, personId, pieceId, stepId, placeId } of ofDay) {
      const id = `${date}.${shiftId}.${personId}`
      const where = { date, shiftId, personId, pieceId, stepId, placeId }
      changes.push(record('assignment', { id, ...where, how: 'drawn', by: 'thea', at }))
    }
  }
  return changes
}
