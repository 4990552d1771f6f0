// The server's act at the start of a day: what is older than a week leaves the board, work that nobody finished is closed
// at the end of its shift, with a log that says so, and what everybody had on the bench is kept for four weeks.
import { addDays, instantOf, minuteOf } from '#lib/base'
import { exposureWith, labOf, latelyBefore, shiftOf, techniqueOf } from '#lib/rules'
import {
  type Change,
  finding,
  type LabTime,
  PersonId,
  put,
  type Records,
  remove,
  type Work,
  withChanges,
} from '#lib/words'
import { defineOp, type Need } from './op.ts'
import { STRETCH_MINUTES_MAX } from './shapes/work.ts'
import { finishedWork, logOf, minutesUntil, stepWith, tallyWith } from './stretch.ts'

/** Days that assignments, ticks and holds stay on the board. */
const DAYS_KEPT = 7
/** Days for which it stays known that and by whom a day was posted. */
const POSTS_KEPT = 60
/** Turns remembered of a person: the record's own bound. */
const TURNS_MAX = 500

export const beginDay = defineOp<'beginDay'>({
  kind: 'beginDay',
  roles: [],
  needs: (records, { date }): readonly Need[] => {
    const pieces = new Set(forgotten(records, date).map((work) => work.pieceId))
    return [...pieces].map((pieceId) => ({ home: `sheet/${pieceId}` }))
  },
  judge: (_records, { date }, _who, when) => (date <= when.date ? [] : [finding('O', 'not-yet', { date })]),
  apply: (records, { date }, _who, when) => {
    const changes: Change[] = [...looked(records, date)]
    let now = records
    for (const work of forgotten(records, date)) {
      const closed = closeWork(now, work, when.at)
      changes.push(...closed)
      now = withChanges(now, closed)
    }
    changes.push(...exposures(now, date))
    for (const work of now.work.values()) if (work.date < date) changes.push(remove('work', work.id))
    changes.push(...clocksOfSteps(withChanges(now, changes), when.at))
    return [...lastOfEach(changes), ...swept(records, date)]
  },
})

/** What ran in whose hand on the days that leave the board. */
function exposures(records: Records, date: string): readonly Change[] {
  const past = [...records.work.values()].filter((work) => work.date < date)
  const people = [...new Set(past.map(({ personId }) => personId))]
  return people.flatMap((personId) =>
    exposureWith(
      records,
      personId,
      past.filter((work) => work.personId === personId),
    ).map((month) => put('exposureMonth', month)),
  )
}

/** Everybody's last four weeks, where they are not on record as they are. */
function looked(records: Records, date: string): readonly Change[] {
  const lately = latelyBefore(records, date)
  const changed = [...records.person.values()].flatMap((person): Change[] => {
    const turns = lately.get(person.id) ?? []
    const former = records.lately.get(person.id)
    const isSame = JSON.stringify(former?.turns ?? []) === JSON.stringify(turns)
    return isSame ? [] : [put('lately', { id: person.id, turns: turns.slice(-TURNS_MAX) })]
  })
  const gone = [...records.lately.keys()].filter((id) => !records.person.has(id)).map((id) => remove('lately', id))
  return [...changed, ...gone]
}

/** Running or paused work of earlier days. */
function forgotten(records: Records, date: string): readonly Readonly<Work>[] {
  return [...records.work.values()].filter((work) => work.state !== 'finished' && work.date < date)
}

function closeWork(records: Records, work: Readonly<Work>, nowAt: string): readonly Change[] {
  const zone = labOf(records)?.zone ?? 'UTC'
  const shift = shiftOf(records, work.shiftId)
  const endMs = shift ? instantOf(zone, work.date, minuteOf(shift.end)) : Date.parse(work.startedAt)
  // A stretch begun after the shift's end has no known end: it counts nothing.
  const finishedMs = Math.max(Date.parse(work.startedAt), Math.min(endMs, Date.parse(nowAt)))
  const minutes = Math.min(STRETCH_MINUTES_MAX, minutesUntil(work, finishedMs))
  const runningPct = techniqueOf(records, work.techniqueId)?.runningPct ?? 0
  const runningMinutes = Math.round((minutes * runningPct) / 100)
  const told = {
    id: freeLogId(records, work.id),
    finishedAt: new Date(finishedMs).toISOString(),
    minutes,
    runningMinutes,
    note: '',
  }
  return [
    finishedWork(work, minutes, runningMinutes),
    put('log', { ...logOf(work, told), closedBy: 'day' }),
    ...stepWith(records, work.stepId, work.personId, minutes, false),
    tallyWith(records, work.personId, work.date, minutes, 1),
  ]
}

/** The work's own id, unless a log has it already. */
function freeLogId(records: Records, workId: string): string {
  const base = workId.slice(0, 90)
  let id = base
  // Ends: there are fewer logs than numbers to try.
  for (let n = 2; records.log.has(id); n++) id = `${base}.${n}`
  return id
}

/** What is old enough to leave the board. */
function swept(records: Records, date: string): readonly Change[] {
  const oldest = addDays(date, -DAYS_KEPT)
  const oldestPost = addDays(date, -POSTS_KEPT)
  const changes: Change[] = []
  for (const kind of ['assignment', 'attendance', 'hold', 'swap'] as const) {
    for (const record of records[kind].values()) if (record.date < oldest) changes.push(remove(kind, record.id))
  }
  for (const told of records.reseat.values()) if (told.date < date) changes.push(remove('reseat', told.id))
  for (const wish of records.forbid.values()) {
    if (wish.date !== null && wish.date < oldest) changes.push(remove('forbid', wish.id))
  }
  for (const day of records.day.values()) if (day.id < oldestPost) changes.push(remove('day', day.id))
  return changes
}

/** Ends noted on a step, as they were before clocks were records of their own. */
function clocksOfSteps(records: Records, at: string): readonly Change[] {
  return [...records.step.values()].flatMap((step): readonly Change[] => {
    const { endsAt, ...rest } = step
    if (endsAt === undefined) return []
    const { date, time, despite = '' } = endsAt
    const ends: LabTime = { date, time }
    const { id, pieceId, techniqueId } = step
    const isAcid = techniqueOf(records, techniqueId)?.needs.includes('acid tank') === true
    const said = { about: '', begun: ends, ends, despite, next: [], by: PersonId.parse('system'), at }
    const clock = { id, pieceId, stepId: id, techniqueId, what: isAcid ? ('acid bath' as const) : ('soaking' as const) }
    return [put('step', rest), put('clock', { ...clock, ...said })]
  })
}

/** One change a record: the last one made, in the order of the first. */
function lastOfEach(changes: readonly Change[]): readonly Change[] {
  return [...new Map(changes.map((change) => [`${change.kind} ${change.id}`, change])).values()]
}
