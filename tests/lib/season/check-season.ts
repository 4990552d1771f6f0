// A checker of seasons that shares nothing with what makes them but the records: turns in, what is wrong with them out.
// The rules of each day are asked of lib/rules, as the gate would; what spans days (order, cure, soak, hours, presence by
// pattern) is gone over here.
import { addDays, daysBetween, minuteOf, weekdayOf } from '#lib/base'
import { isHeldOn, judgeDay, judgeHandsOfDay, presenceOf } from '#lib/rules'
import type { Story } from '#lib/season'
import type { RecordOf, Records } from '#lib/words'

type Turn = Story['turns'][number]

/** Everything wrong with a story; empty when nothing is. `judged` asks the rules of the gate as well. */
export function check(records: Records, story: Story, judged: boolean): readonly string[] {
  const wrong: string[] = []
  const { turns } = story
  const moments = byMoment(records, turns)
  const endOf = new Map<string, string>()
  const readyFrom = new Map<string, string>()
  const left = new Map(story.minutes)
  const soaking = new Map<string, { readonly pieceId: string; until: string }>()
  const lastOf = lastMoments(moments)
  for (const [key, here] of moments) {
    const date = here[0]?.date ?? ''
    checkMoment(records, here, key, wrong)
    for (const turn of here) {
      const step = records.step.get(turn.stepId)
      if (!step) continue
      for (const before of step.after) {
        const state = records.step.get(before)?.state
        if (state === undefined || state === 'done' || state === 'dropped') continue
        const from = readyFrom.get(before)
        if (from === undefined || key < from) wrong.push(`${key} ${turn.stepId} before ${before} was done or cured`)
      }
      const bath = [...soaking.values()].find(({ pieceId }) => pieceId === turn.pieceId)
      if (bath && date < bath.until) wrong.push(`${key} ${turn.stepId} while ${turn.pieceId} soaks`)
      // Two pieces that came to a tank for several in one half-day may soak there together.
      const taken = records.place.get(turn.placeId)?.isExclusive ? soaking.get(turn.placeId) : undefined
      if (taken && taken.pieceId !== turn.pieceId && date < taken.until) {
        wrong.push(`${key} ${turn.pieceId} at ${turn.placeId} where ${taken.pieceId} soaks`)
      }
    }
    for (const [stepId, people] of byStep(here)) {
      const step = records.step.get(stepId)
      if (!step) continue
      if ((left.get(stepId) ?? 0) <= 0) wrong.push(`${key} ${stepId} goes on after its end`)
      left.set(stepId, (left.get(stepId) ?? 0) - people.length * minutesAt(records, people[0]))
      const isAcid = step.techniqueId === 'acid'
      const isEnd = lastOf.get(stepId) === key && (left.get(stepId) ?? 0) <= 0
      const days = isEnd ? (isAcid ? 2 : isCuring(records, step) ? 1 : 0) : isAcid ? 3 : 0
      if (isEnd) {
        endOf.set(stepId, date)
        // In the same half-day nothing that waits may begin; cured, on the morning of that day.
        readyFrom.set(stepId, days === 0 ? `${key}~` : addDays(date, days))
      } else if (isAcid) readyFrom.set(`soak ${stepId}`, addDays(date, days))
      if (isAcid) soaking.set(people[0]?.placeId ?? '', { pieceId: step.pieceId, until: addDays(date, days) })
    }
  }
  if (judged) judgeDays(records, story, endOf, wrong)
  checkReady(records, story, endOf, wrong)
  return wrong
}

const isCuring = (records: Records, step: RecordOf<'step'>): boolean => {
  const technique = records.lab.get('lab')?.techniques.find(({ id }) => id === step.techniqueId)
  return technique?.group === 'consolidating' || technique?.group === 'joining'
}

/** Moments as text that sorts by time, with their turns. */
function byMoment(records: Records, turns: readonly Turn[]): readonly (readonly [string, readonly Turn[]])[] {
  const starts = new Map((records.lab.get('lab')?.shifts ?? []).map(({ id, start }) => [id as string, minuteOf(start)]))
  const moments = new Map<string, Turn[]>()
  for (const turn of turns) {
    const key = `${turn.date} ${String(starts.get(turn.shiftId) ?? 0).padStart(4, '0')}`
    const list = moments.get(key)
    if (list) list.push(turn)
    else moments.set(key, [turn])
  }
  return [...moments].sort(([a], [b]) => (a < b ? -1 : 1))
}

function lastMoments(moments: readonly (readonly [string, readonly Turn[]])[]): ReadonlyMap<string, string> {
  const last = new Map<string, string>()
  for (const [key, turns] of moments) for (const { stepId } of turns) last.set(stepId, key)
  return last
}

function byStep(turns: readonly Turn[]): ReadonlyMap<string, readonly Turn[]> {
  const steps = new Map<string, Turn[]>()
  for (const turn of turns) steps.set(turn.stepId, [...(steps.get(turn.stepId) ?? []), turn])
  return steps
}

/** Minutes of work of one person in the half-day; the share that becomes work is told by the season. */
function minutesAt(records: Records, turn: Turn | undefined): number {
  const shift = records.lab.get('lab')?.shifts.find(({ id }) => id === turn?.shiftId)
  return shift ? Math.round((minuteOf(shift.end) - minuteOf(shift.start)) * WORK_SHARE) : 0
}

/** Labs without tallies give this share (given.ts). */
const WORK_SHARE = 0.85

/** One place a person, hands within bounds, one place and step a piece, expected and present, levels, seats. */
function checkMoment(records: Records, turns: readonly Turn[], key: string, wrong: string[]): void {
  const people = new Set<string>()
  const placeOf = new Map<string, string>()
  const stepOf = new Map<string, string>()
  const seats = new Map<string, number>()
  const pieceAt = new Map<string, Set<string>>()
  for (const turn of turns) {
    const say = (what: string) => wrong.push(`${key} ${turn.personId} ${turn.stepId}: ${what}`)
    const person = records.person.get(turn.personId)
    const place = records.place.get(turn.placeId)
    const step = records.step.get(turn.stepId)
    const piece = records.specimen.get(turn.pieceId) ?? records.jacket.get(turn.pieceId)
    const shift = records.lab.get('lab')?.shifts.find(({ id }) => id === turn.shiftId)
    if (!person || !place || !step || !piece || !shift) {
      say('names what is not there')
      continue
    }
    if (people.has(person.id)) say('twice in one half-day')
    people.add(person.id)
    if (!isHeldOn(records, shift, turn.date) || !shift.weekdays.includes(weekdayOf(turn.date))) say('closed')
    if (!presenceOf(records, person, turn.date, shift.id).isIn) say('not expected')
    const level = person.skills.find(({ techniqueId }) => techniqueId === step.techniqueId)?.level ?? 0
    if (level < ('isPriority' in piece && piece.isPriority ? 3 : 2)) say('level too low')
    if ((placeOf.get(piece.id) ?? place.id) !== place.id) say('piece in two places')
    placeOf.set(piece.id, place.id)
    if ((stepOf.get(piece.id) ?? step.id) !== step.id) say('piece at two steps')
    stepOf.set(piece.id, step.id)
    seats.set(place.id, (seats.get(place.id) ?? 0) + 1)
    if ((seats.get(place.id) ?? 0) > place.seats) say('no seat')
    pieceAt.set(place.id, new Set([...(pieceAt.get(place.id) ?? []), piece.id]))
    if (place.isExclusive && (pieceAt.get(place.id)?.size ?? 0) > 1) say('place taken')
    if (piece.isTied && piece.placeId !== null && piece.placeId !== place.id) say('tied elsewhere')
    if (place.closedUntil !== null && turn.date < place.closedUntil) say('place closed')
  }
  for (const [stepId, hands] of byStep(turns)) {
    const step = records.step.get(stepId)
    if (!step) continue
    if (hands.length < step.peopleMin || hands.length > Math.max(step.peopleMin, step.peopleMax)) {
      wrong.push(`${key} ${stepId}: ${hands.length} hands`)
    }
  }
}

/** What the gate would say to each day, with the steps that were done before it done. */
function judgeDays(
  records: Records,
  { turns, readyOn }: Story,
  endOf: ReadonlyMap<string, string>,
  wrong: string[],
): void {
  for (const date of new Set(turns.map((turn) => turn.date))) {
    const step = new Map(
      [...records.step].map(([id, one]) => {
        const end = endOf.get(id)
        return [id, end !== undefined && end < date ? { ...one, state: 'done' as const } : one]
      }),
    )
    // What is ready is moved away.
    const isGone = (id: string) => (readyOn.get(id) ?? '9999') <= date
    const loose = <T extends { readonly id: string }>(pieces: ReadonlyMap<string, T>) =>
      new Map([...pieces].map(([id, piece]) => [id, isGone(id) ? { ...piece, isTied: false } : piece]))
    const day = { ...records, step, specimen: loose(records.specimen), jacket: loose(records.jacket) }
    // Ids are branded in the records alone.
    const own = turns.filter((turn) => turn.date === date) as unknown as Parameters<typeof judgeDay>[2]
    for (const { rule, code, ids } of [...judgeDay(day, date, own), ...judgeHandsOfDay(day, date, own)]) {
      // What is finished in the morning frees its place and lets others begin in the afternoon, which a day as a whole
      // does not show; order within days is gone over above.
      if (code === 'step-waits') continue
      wrong.push(`${date} ${rule} ${code} ${JSON.stringify(ids)}`)
    }
  }
}

/** A piece is ready when all its steps are done and cured, and not before. */
function checkReady(records: Records, story: Story, endOf: ReadonlyMap<string, string>, wrong: string[]): void {
  for (const [pieceId, on] of story.readyOn) {
    const open = [...records.step.values()].filter(
      (step) => step.pieceId === pieceId && (step.state === 'waiting' || step.state === 'begun'),
    )
    for (const step of open) {
      const end = endOf.get(step.id)
      if (end === undefined) wrong.push(`${pieceId} ready without ${step.id}`)
      else if (daysBetween(end, on) < (step.techniqueId === 'acid' ? 2 : isCuring(records, step) ? 1 : 0)) {
        wrong.push(`${pieceId} ready on ${on}, ${step.id} ended on ${end} and not cured`)
      }
    }
  }
}
