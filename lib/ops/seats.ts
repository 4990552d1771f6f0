// One turn at a time: seated by hand on a posted day, or claimed by the person; and taken back again. A seat given by
// hand and the hold of the same person never disagree: both change in one act, which one undo takes back.
import { minuteOf } from '#lib/base'
import {
  assignmentsOn,
  isSameTurn,
  judgeLeft,
  judgeTaken,
  judgeTurn,
  shiftOf,
  type Turn,
  turnId,
  worksOfTurn,
} from '#lib/rules'
import { type Assignment, type Finding, finding, put, type Records, remove } from '#lib/words'
import { by, defineOp, type When } from './op.ts'
import { must, unknown, unless } from './parts.ts'
import { reseatsFor } from './reseats.ts'
import { forbidAgainst, judgeDate, judgeHoldAlone, turnOf } from './wishes.ts'

/** Nobody has begun the turn; else who has, and since when. */
export function notBegun(records: Records, id: string): readonly Finding[] {
  const work = worksOfTurn(records, id)[0]
  return work
    ? [
        finding('R7', 'begun-since', {
          assignment: id,
          person: work.personId,
          piece: work.pieceId,
          since: work.startedAt,
        }),
      ]
    : []
}

/** Lost to somebody else comes before all other reasons: who has it is what the author must know. */
function judgeWanted(records: Records, date: string, turn: Turn): readonly Finding[] {
  const taken = judgeTaken(records, date, turn)
  return taken.length > 0 ? taken : judgeTurn(records, date, turn)
}

function others(records: Records, date: string, id: string): readonly Readonly<Assignment>[] {
  return assignmentsOn(records, date).filter((one) => one.id !== id)
}

/** The seats of a day with one of them changed, or taken (null). */
function seatsWith(records: Records, date: string, id: string, seat: Readonly<Assignment> | null) {
  const seats = new Map(assignmentsOn(records, date).map((one) => [one.id, one]))
  if (seat) seats.set(id, seat)
  else seats.delete(id)
  return seats
}

type Held = Pick<Turn, 'pieceId' | 'stepId' | 'placeId'>

/** What somebody is held to, as a way back carries it. */
function holdOf(records: Records, id: string): { readonly hold?: Held } {
  const record = records.hold.get(id)
  if (!record) return {}
  const { pieceId, stepId, placeId } = record
  return { hold: { pieceId, stepId, placeId } }
}

/** A hold that comes along must be one that could be made. */
function judgeHeld(
  records: Records,
  turn: (Turn & { readonly date: string }) | undefined,
  hold: Held | undefined,
): readonly Finding[] {
  return turn && hold ? judgeHoldAlone(records, turn.date, { ...turnOf(turn), ...hold }) : []
}

export const seat = defineOp<'seat'>({
  kind: 'seat',
  roles: by.staff,
  judge: (records, op, _who, when) => {
    const id = turnId(op.date, op.shiftId, op.personId)
    const former = records.assignment.get(id)
    const wish = forbidAgainst(records, op.date, op, others(records, op.date, id))
    return [
      ...judgeDate(op.date, when),
      ...unless(records.day.has(op.date), 'O', 'not-posted', { date: op.date }),
      ...unless(!former || !isSameTurn(former, op), 'O', 'as-it-is', { assignment: id, person: op.personId }),
      ...notBegun(records, id),
      ...judgeWanted(records, op.date, op),
      ...judgeHeld(records, op, op.hold),
      ...(wish ? [finding('O', 'forbidden', { assignment: id, person: op.personId, forbid: wish.id })] : []),
    ]
  },
  apply: (records, op, who, when) => {
    const id = turnId(op.date, op.shiftId, op.personId)
    const record = { id, date: op.date, ...turnOf(op) }
    const isHeld = op.hold !== undefined || records.hold.has(id)
    const seated: Assignment = { ...record, how: 'held', by: who.personId, at: when.at }
    return [
      put('assignment', seated),
      ...reseatsFor(records, op.date, seatsWith(records, op.date, id, seated), who, when),
      ...(isHeld ? [put('hold', { ...record, ...op.hold })] : []),
    ]
  },
  inverse: (records, op, id) => {
    const assignmentId = turnId(op.date, op.shiftId, op.personId)
    const former = records.assignment.get(assignmentId)
    const held = holdOf(records, assignmentId)
    return former
      ? { id, kind: 'seat', date: former.date, ...turnOf(former), ...held }
      : { id, kind: 'unseat', assignmentId, ...held }
  },
})

/** A turn that can still be taken off: from today on, and not begun. */
function judgeLeaving(records: Records, id: string, when: When): readonly Finding[] {
  const turn = records.assignment.get(id)
  if (!turn) return [unknown('assignment', id)]
  return [
    ...unless(turn.date >= when.date, 'O', 'past', { date: turn.date }),
    ...notBegun(records, id),
    // A mentor who leaves would leave learners alone: they are named, to be moved first.
    ...judgeLeft(records, turn.date, id),
  ]
}

export const unseat = defineOp<'unseat'>({
  kind: 'unseat',
  roles: by.staff,
  judge: (records, { assignmentId, hold }, _who, when) => [
    ...judgeLeaving(records, assignmentId, when),
    ...judgeHeld(records, records.assignment.get(assignmentId), hold),
  ],
  apply: (records, { assignmentId, hold }, who, when) => {
    const { date, shiftId, personId } = must(records.assignment.get(assignmentId), 'an assignment')
    const left = hold
      ? [put('hold', { id: assignmentId, date, shiftId, personId, ...hold })]
      : records.hold.has(assignmentId)
        ? [remove('hold', assignmentId)]
        : []
    const told = reseatsFor(records, date, seatsWith(records, date, assignmentId, null), who, when)
    return [remove('assignment', assignmentId), ...told, ...left]
  },
  inverse: (records, { assignmentId }, id) => {
    const former = records.assignment.get(assignmentId)
    return former ? { id, kind: 'seat', date: former.date, ...turnOf(former), ...holdOf(records, assignmentId) } : null
  },
})

export const claim = defineOp<'claim'>({
  kind: 'claim',
  roles: by.crew,
  judge: (records, op, who, when) => {
    const turn = { ...op, personId: who.personId }
    const id = turnId(op.date, op.shiftId, who.personId)
    const own = records.assignment.get(id)
    const shift = shiftOf(records, op.shiftId)
    const isOver = shift && op.date === when.date && when.minute >= minuteOf(shift.end)
    const early = [
      ...judgeDate(op.date, when),
      ...(isOver ? [finding('O', 'shift-over', { shift: op.shiftId, date: op.date })] : []),
      ...(own ? [finding('R1', 'two-places', { assignment: id, person: who.personId, place: own.placeId })] : []),
    ]
    if (early.length > 0) return early
    const wanted = judgeWanted(records, op.date, turn)
    if (wanted.length > 0) return wanted
    // Holds and forbids are the office's: the refusal says no more than whom to ask.
    const isKept =
      heldForOther(records, op.date, turn) || forbidAgainst(records, op.date, turn, others(records, op.date, id))
    return isKept ? [finding('O', 'ask-manager', { piece: op.pieceId })] : []
  },
  apply: (records, op, who, when) => {
    const id = turnId(op.date, op.shiftId, who.personId)
    const turn = turnOf({ ...op, personId: who.personId })
    return [
      put('assignment', { id, date: op.date, ...turn, how: 'claimed', by: who.personId, at: when.at }),
      // Who takes a seat knows where it is.
      ...(records.reseat.has(id) ? [remove('reseat', id)] : []),
    ]
  },
  inverse: (_records, op, id, who) => ({
    id,
    kind: 'unclaim',
    assignmentId: turnId(op.date, op.shiftId, who.personId),
  }),
})

/** True when the piece is held for somebody else in that shift, or the person for another piece. */
function heldForOther(records: Records, date: string, turn: Turn): boolean {
  return [...records.hold.values()].some(
    (held) =>
      held.date === date &&
      held.shiftId === turn.shiftId &&
      (held.personId === turn.personId ? held.pieceId !== turn.pieceId : held.pieceId === turn.pieceId),
  )
}

export const unclaim = defineOp<'unclaim'>({
  kind: 'unclaim',
  roles: by.crew,
  judge: (records, { assignmentId }, who, when) => {
    const turn = records.assignment.get(assignmentId)
    if (!turn) return [unknown('assignment', assignmentId)]
    if (turn.personId !== who.personId) return [finding('O', 'not-yours', { person: turn.personId })]
    return [
      ...unless(turn.how === 'claimed', 'O', 'not-claimed', { assignment: assignmentId, person: turn.by }),
      ...judgeLeaving(records, assignmentId, when),
    ]
  },
  apply: (_records, { assignmentId }) => [remove('assignment', assignmentId)],
  inverse: (records, { assignmentId }, id) => {
    const former = records.assignment.get(assignmentId)
    if (!former) return null
    const { personId: _own, ...turn } = turnOf(former)
    return { id, kind: 'claim', date: former.date, ...turn }
  },
})
