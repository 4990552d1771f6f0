// What waits for somebody on the Floor: people who are missed, questions, sign-offs asked for, dates asked for. One
// row each, the most pressing first; and the dated pieces whose chance is below the lab's line.
import { minuteOf } from '#lib/base'
import { clocksRunning, presenceOf, shiftOf, worksOfTurn } from '#lib/rules'
import type { PersonId, PlaceId, RecordOf, Records, Role, ShiftId } from '#lib/words'
import { type Chances, type Floor, type PieceTag, pieceTag, type Sitter } from './floor-day.ts'

/** One thing that wants somebody. */
export type Want =
  | {
      readonly kind: 'late'
      readonly personId: PersonId
      readonly dueAt: string | null
      readonly sitter: Sitter | null
      readonly isTold: boolean
    }
  | { readonly kind: 'away'; readonly personId: PersonId; readonly sitter: Sitter }
  | {
      readonly kind: 'dropped'
      readonly date: string
      readonly shiftId: ShiftId
      readonly personIds: readonly PersonId[]
    }
  | { readonly kind: 'closed'; readonly placeId: PlaceId; readonly personIds: readonly PersonId[] }
  | { readonly kind: 'clock'; readonly clock: RecordOf<'clock'>; readonly time: string }
  | { readonly kind: 'question'; readonly question: RecordOf<'question'> }
  | { readonly kind: 'signOff'; readonly ask: RecordOf<'signOffAsk'> }
  | { readonly kind: 'date'; readonly due: RecordOf<'due'> }
  | { readonly kind: 'seatless'; readonly personIds: readonly PersonId[] }

/** What waits for this person on this shift: staff see all of it, a volunteer the questions on what they do today. */
export function wantsOf(
  records: Records,
  floor: Floor,
  who: { readonly personId: PersonId; readonly role: Role },
  now?: { readonly today: string; readonly minute: number },
): readonly Want[] {
  const isStaff = who.role === 'manager' || who.role === 'preparator'
  const sitters = floor.places.flatMap((entry) => entry.sitters)
  const wants: Want[] = []
  if (isStaff) {
    for (const sitter of sitters) {
      const presence = floor.presence.get(sitter.personId)
      if (sitter.look === 'away') wants.push({ kind: 'away', personId: sitter.personId, sitter })
      if (sitter.look === 'late')
        wants.push({
          kind: 'late',
          personId: sitter.personId,
          dueAt: presence?.dueAt ?? null,
          sitter,
          isTold: presence?.state === 'late',
        })
    }
    if (now) wants.push(...droppedOf(records, floor, now))
    for (const { place, isClosed, sitters: here } of floor.places) {
      const personIds = here.filter(({ work }) => work !== 'finished').map(({ personId }) => personId)
      if (isClosed && personIds.length > 0) wants.push({ kind: 'closed', placeId: place.id, personIds })
    }
    wants.push(...clocksOf(records, floor))
    // Before the day is posted everybody is without a seat; that is no news.
    const seatless = records.day.has(floor.date) ? floor.unseated.filter((person) => person.state === 'in') : []
    if (seatless.length > 0) wants.push({ kind: 'seatless', personIds: seatless.map((person) => person.personId) })
  }
  const own = new Set(sitters.filter((sitter) => sitter.personId === who.personId).map((sitter) => sitter.pieceId))
  for (const question of records.question.values()) {
    if (question.answer || question.by === who.personId) continue
    if (isStaff || own.has(question.pieceId)) wants.push({ kind: 'question', question })
  }
  if (isStaff) for (const ask of records.signOffAsk.values()) wants.push({ kind: 'signOff', ask })
  if (who.role === 'manager')
    for (const due of records.due.values()) if (due.state === 'asked') wants.push({ kind: 'date', due })
  return wants
}

/** Who has a seat in another shift of a posted day, later than now, and has said since that they do not come. */
function droppedOf(
  records: Records,
  floor: Floor,
  now: { readonly today: string; readonly minute: number },
): readonly Want[] {
  const found = new Map<string, Extract<Want, { kind: 'dropped' }>>()
  for (const turn of records.assignment.values()) {
    const { date, shiftId, personId } = turn
    const end = shiftOf(records, shiftId)?.end
    const isOver = date < now.today || (date === now.today && end !== undefined && minuteOf(end) <= now.minute)
    if (isOver || !records.day.has(date) || (date === floor.date && shiftId === floor.shiftId)) continue
    const person = records.person.get(personId)
    if (!person || !presenceOf(records, person, date, shiftId).isAway) continue
    if (worksOfTurn(records, turn.id).length > 0) continue
    const key = `${date} ${shiftId}`
    const personIds = [...(found.get(key)?.personIds ?? []), personId]
    found.set(key, { kind: 'dropped', date, shiftId, personIds })
  }
  return [...found.entries()].toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([, want]) => want)
}

/** Processes that end in this shift with nobody present on their piece. */
function clocksOf(records: Records, floor: Floor): readonly Want[] {
  const shift = records.lab.get('lab')?.shifts.find(({ id }) => id === floor.shiftId)
  const watched = new Set(
    floor.places.flatMap(({ sitters }) => sitters.filter(({ look }) => look !== 'away').map(({ pieceId }) => pieceId)),
  )
  return clocksRunning(records).flatMap((clock): readonly Want[] => {
    const { ends, stepId, pieceId } = clock
    if (!shift || ends.date !== floor.date || ends.time < shift.start || ends.time > shift.end) return []
    const state = stepId === null ? null : records.step.get(stepId)?.state
    if ((state !== 'waiting' && state !== 'begun') || watched.has(pieceId)) return []
    return [{ kind: 'clock', clock, time: ends.time }]
  })
}

/** Dated pieces, the least likely first; those without a forecast come last. */
export function datedOf(records: Records, date: string, chances: Chances): readonly PieceTag[] {
  const ids = new Set<string>()
  for (const due of records.due.values()) if (due.state === 'accepted') ids.add(due.pieceId)
  return [...ids]
    .flatMap((id) => pieceTag(records, id, date, chances) ?? [])
    .toSorted((a, b) => risk(a) - risk(b) || (a.due?.days ?? 0) - (b.due?.days ?? 0))
}

const risk = (tag: PieceTag): number => tag.due?.tenths ?? 11

/** Figures of the morning's sentence. */
export type Headcount = {
  readonly inCount: number
  readonly late: readonly string[]
  readonly away: readonly string[]
  readonly seatless: readonly string[]
  readonly freeSeats: number
  readonly held: readonly string[]
  readonly seated: number
}

/** Counts the shift: who is in, late and away by name, who has no seat, what is free, who is held. */
export function headcountOf(floor: Floor): Headcount {
  const sitters = floor.places.flatMap((entry) => entry.sitters)
  const look = new Map(sitters.map((sitter) => [sitter.personId, sitter.look]))
  const people = [...floor.presence.values()]
  const isLate = (id: PersonId, state: string) => state === 'late' || look.get(id) === 'late'
  const late = people.filter((person) => isLate(person.personId, person.state))
  const away = people.filter((person) => person.state === 'away' || person.state === 'left')
  return {
    inCount: people.length - late.length - away.length,
    late: late.map((person) => person.name),
    away: away.map((person) => person.name),
    seatless: floor.unseated.map((person) => person.name),
    freeSeats: floor.places.reduce((sum, entry) => sum + (entry.isClosed ? 0 : entry.freeSeats), 0),
    held: sitters.filter((sitter) => sitter.how === 'held').map((sitter) => sitter.name),
    seated: sitters.length,
  }
}
