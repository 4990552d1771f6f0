// Turns given from hand to hand: whoever has one offers it, whoever may do it takes it, with or without a turn of their
// own in return. Both days are judged as they would be afterwards, so a swap can do nothing that a seat could not.
import { minuteOf } from '#lib/base'
import { assignmentsOn, judgeDay, newFindings, presenceOf, shiftOf, type Turn, turnId } from '#lib/rules'
import { type Assignment, type Change, type Finding, finding, put, type Records, remove } from '#lib/words'
import { by, defineOp, type When, type Who } from './op.ts'
import { must, unknown, unless } from './parts.ts'
import { reseatsFor } from './reseats.ts'
import { notBegun } from './seats.ts'
import { forbidAgainst, turnOf } from './wishes.ts'

type Seat = Readonly<Assignment>

/** A turn that can still change hands: its shift is not over, and nobody has begun it. */
function judgeOpen(records: Records, seat: Seat, when: When): readonly Finding[] {
  const end = shiftOf(records, seat.shiftId)?.end
  const isOver = seat.date === when.date && end !== undefined && minuteOf(end) <= when.minute
  return [
    ...unless(seat.date >= when.date, 'O', 'past', { date: seat.date }),
    ...unless(!isOver, 'O', 'shift-over', { shift: seat.shiftId, date: seat.date }),
    ...notBegun(records, seat.id),
  ]
}

export const offerSwap = defineOp<'offerSwap'>({
  kind: 'offerSwap',
  roles: by.crew,
  judge: (records, { assignmentId }, who, when) => {
    const seat = records.assignment.get(assignmentId)
    if (!seat) return [unknown('assignment', assignmentId)]
    return [
      ...unless(seat.personId === who.personId, 'O', 'not-yours', { person: seat.personId }),
      ...unless(records.swap.get(assignmentId)?.taken !== null, 'O', 'as-it-is', { assignment: assignmentId }),
      ...judgeOpen(records, seat, when),
    ]
  },
  apply: (records, { assignmentId, note }, _who, when) => {
    const { id, personId, date, shiftId } = must(records.assignment.get(assignmentId), 'an assignment')
    return [put('swap', { id, personId, date, shiftId, at: when.at, note, taken: null })]
  },
  inverse: (records, { assignmentId }, id) =>
    records.swap.has(assignmentId) ? null : { id, kind: 'dropSwap', swapId: assignmentId },
})

export const dropSwap = defineOp<'dropSwap'>({
  kind: 'dropSwap',
  roles: by.crew,
  judge: (records, { swapId }, who) => {
    const swap = records.swap.get(swapId)
    if (!swap) return [unknown('swap', swapId)]
    return [
      ...unless(swap.personId === who.personId, 'O', 'not-yours', { person: swap.personId }),
      ...unless(swap.taken === null, 'O', 'swap-taken', { person: swap.taken?.by ?? '' }),
    ]
  },
  apply: (_records, { swapId }) => [remove('swap', swapId)],
})

export const takeSwap = defineOp<'takeSwap'>({
  kind: 'takeSwap',
  roles: by.crew,
  judge: (records, { swapId, gives }, who, when) => {
    const swap = records.swap.get(swapId)
    const offered = records.assignment.get(swapId)
    if (!swap || !offered) return [unknown('swap', swapId)]
    if (swap.taken) return [finding('O', 'swap-taken', { person: swap.taken.by })]
    const given = gives === null ? null : (records.assignment.get(gives) ?? null)
    if (gives !== null && !given) return [unknown('assignment', gives)]
    const early = [
      ...unless(swap.personId !== who.personId, 'O', 'swap-own', { person: who.personId }),
      ...unless(!given || given.personId === who.personId, 'O', 'not-yours', { person: given?.personId ?? '' }),
      ...judgeOpen(records, offered, when),
      ...(given ? judgeOpen(records, given, when) : []),
      ...judgeKeepsOwn(records, offered, given, who),
    ]
    if (early.length > 0) return early
    const changed = judgeChanged(records, offered, given, who)
    if (changed.length > 0) return changed
    // Holds and forbids are the office's: the refusal says no more than whom to ask.
    return isSpokenFor(records, offered, given, who) ? [finding('O', 'ask-manager', { piece: offered.pieceId })] : []
  },
  apply: (records, { swapId, gives }, who, when) => {
    const swap = must(records.swap.get(swapId), 'a swap')
    const offered = must(records.assignment.get(swapId), 'an assignment')
    const given = gives === null ? null : must(records.assignment.get(gives), 'an assignment')
    const dates = new Set([offered.date, ...(given ? [given.date] : [])])
    const moved = movedSeats(offered, given, who, when)
    const seats: Change[] = [offered, ...(given ? [given] : [])]
      .filter((seat) => !moved.some(({ id }) => id === seat.id))
      .map((seat) => remove('assignment', seat.id))
    const told = [...dates].flatMap((date) => {
      const after = new Map(seatsAfter(records, date, offered, given, moved).map((seat) => [seat.id, seat]))
      return reseatsFor(records, date, after, who, when)
    })
    // What was given away is offered no more.
    const ended = given && records.swap.get(given.id)?.taken === null ? [remove('swap', given.id)] : []
    return [
      ...seats,
      ...moved.map((seat) => put('assignment', seat)),
      ...told,
      ...ended,
      put('swap', { ...swap, taken: { by: who.personId, gave: gives, at: when.at } }),
    ]
  },
})

/** Both seats with their people exchanged; the taker's choice, so claimed. */
function movedSeats(offered: Seat, given: Seat | null, who: Pick<Who, 'personId'>, when: Pick<When, 'at'>): Seat[] {
  const to = (seat: Seat, personId: Seat['personId']): Seat => ({
    ...turnOf({ ...seat, personId }),
    id: turnId(seat.date, seat.shiftId, personId),
    date: seat.date,
    how: 'claimed',
    by: who.personId,
    at: when.at,
  })
  return [to(offered, who.personId), ...(given ? [to(given, offered.personId)] : [])]
}

function seatsAfter(records: Records, date: string, offered: Seat, given: Seat | null, moved: readonly Seat[]): Seat[] {
  const left = assignmentsOn(records, date).filter(({ id }) => id !== offered.id && id !== given?.id)
  return [...left, ...moved.filter((seat) => seat.date === date)]
}

/** Neither may be left with two turns in one shift, and whoever gets a turn in return must be there. */
function judgeKeepsOwn(records: Records, offered: Seat, given: Seat | null, who: Who): readonly Finding[] {
  const findings: Finding[] = []
  const own = records.assignment.get(turnId(offered.date, offered.shiftId, who.personId))
  if (own && own.id !== given?.id)
    findings.push(finding('R1', 'two-places', { assignment: own.id, person: who.personId, place: own.placeId }))
  if (!given) return findings
  const theirs = records.assignment.get(turnId(given.date, given.shiftId, offered.personId))
  if (theirs && theirs.id !== offered.id)
    findings.push(
      finding('R1', 'two-places', { assignment: theirs.id, person: offered.personId, place: theirs.placeId }),
    )
  const person = records.person.get(offered.personId)
  if (person && presenceOf(records, person, given.date, given.shiftId).isAway)
    findings.push(finding('O', 'swap-away', { person: offered.personId }))
  return findings
}

/** What the rules find on the days afterwards that they did not find before, and all that stands against the two turns. */
function judgeChanged(records: Records, offered: Seat, given: Seat | null, who: Who): readonly Finding[] {
  const moved = movedSeats(offered, given, who, { at: offered.at })
  const ids = new Set(moved.map(({ id }) => id))
  return [...new Set(moved.map(({ date }) => date))].flatMap((date) => {
    const after = judgeDay(records, date, seatsAfter(records, date, offered, given, moved))
    if (after.length === 0) return []
    const fresh = newFindings(judgeDay(records, date, assignmentsOn(records, date)), after)
    return after.filter((one) => ids.has(one.ids.assignment ?? '') || fresh.includes(one))
  })
}

function isSpokenFor(records: Records, offered: Seat, given: Seat | null, who: Who): boolean {
  const moved = movedSeats(offered, given, who, { at: offered.at })
  const seats: readonly Seat[] = given ? [offered, given] : [offered]
  // Somebody was seated there on purpose, or the piece or the person is kept for something else that shift.
  const isHeld = [...records.hold.values()].some(
    (held) =>
      seats.some(({ id }) => id === held.id) ||
      moved.some(
        (seat: Turn & { readonly date: string }) =>
          seat.date === held.date &&
          seat.shiftId === held.shiftId &&
          (seat.personId === held.personId || seat.pieceId === held.pieceId),
      ),
  )
  return (
    isHeld ||
    moved.some((seat) =>
      forbidAgainst(
        records,
        seat.date,
        seat,
        seatsAfter(records, seat.date, offered, given, moved).filter(({ id }) => id !== seat.id),
      ),
    )
  )
}
