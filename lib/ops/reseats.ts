// Whoever's seat is changed by another hand after the day was posted is told so until they have seen it: what they last
// knew stays on record beside what they have now. Back where it was, there is nothing to tell.
import { minuteOf } from '#lib/base'
import { assignmentsOn, isSameTurn, shiftOf } from '#lib/rules'
import { type Assignment, type Change, finding, put, type Records, remove } from '#lib/words'
import { by, defineOp, type When, type Who } from './op.ts'
import { unknown } from './parts.ts'

type Seats = ReadonlyMap<string, Readonly<Assignment>>

/** What a change of seats leaves to be told; `after` holds the seats of the day as they will be. */
export function reseatsFor(records: Records, date: string, after: Seats, who: Who, when: When): readonly Change[] {
  if (!records.day.has(date)) return []
  const before = new Map(assignmentsOn(records, date).map((one) => [one.id, one]))
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((id): readonly Change[] => {
    const [was, is] = [before.get(id), after.get(id)]
    const turn = is ?? was
    if (!turn || (was && is && isSameTurn(was, is))) return []
    const end = shiftOf(records, turn.shiftId)?.end
    const isOver = date < when.date || (date === when.date && end !== undefined && minuteOf(end) <= when.minute)
    // What is over is no news any more, and stays as it was told.
    if (isOver) return []
    const told = records.reseat.get(id)
    const known = told ? told.was : was ? heldOf(was) : null
    const isAsKnown = known === null ? !is : is !== undefined && isSameTurn({ ...turn, ...known }, is)
    const isOwn = turn.personId === who.personId
    if (isAsKnown || isOwn) return told ? [remove('reseat', id)] : []
    const { shiftId, personId } = turn
    return [put('reseat', { id, date, shiftId, personId, was: known, by: who.personId, at: when.at })]
  })
}

const heldOf = ({ pieceId, stepId, placeId }: Readonly<Assignment>) => ({ pieceId, stepId, placeId })

export const seenReseat = defineOp<'seenReseat'>({
  kind: 'seenReseat',
  roles: by.crew,
  judge: (records, { assignmentId }, who) => {
    const told = records.reseat.get(assignmentId)
    if (!told) return [unknown('reseat', assignmentId)]
    return told.personId === who.personId ? [] : [finding('O', 'not-yours', { person: told.personId })]
  },
  apply: (_records, { assignmentId }) => [remove('reseat', assignmentId)],
})
