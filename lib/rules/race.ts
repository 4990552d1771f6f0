// R7: a claim or an assignment that lost a race is told to its author at once, with who has it.
import { type Assignment, type Finding, finding, type Records } from '#lib/words'
import { assignmentsOn, type Turn, turnId, worksOfTurn } from './find.ts'
import { judgeDay } from './judge.ts'

/** Who has the piece in that shift already, when there is no room for one more on that step. */
export function judgeTaken(records: Records, date: string, turn: Turn): readonly Finding[] {
  const others = assignmentsOn(records, date).filter(
    (one) => one.shiftId === turn.shiftId && one.pieceId === turn.pieceId && one.personId !== turn.personId,
  )
  const first = others[0]
  if (!first) return []
  const most = records.step.get(turn.stepId)?.peopleMax ?? 1
  const isShared = others.every((one) => one.stepId === turn.stepId && one.placeId === turn.placeId)
  return isShared && others.length < most ? [] : [hasIt(first)]
}

/** `has-it`: who, where, and since when. */
function hasIt(one: Readonly<Assignment>): Finding {
  return finding('R7', 'has-it', {
    assignment: one.id,
    person: one.personId,
    piece: one.pieceId,
    place: one.placeId,
    since: one.at,
  })
}

/** Begun work and other people's claims that a line-up for the whole day leaves out or displaces. */
export function judgeDisplaced(
  records: Records,
  date: string,
  turns: readonly Turn[],
  authorId: string,
): readonly Finding[] {
  const wanted = new Map(turns.map((turn) => [turnId(date, turn.shiftId, turn.personId), turn]))
  return assignmentsOn(records, date).flatMap((one) => {
    const turn = wanted.get(one.id)
    if (turn && isSameTurn(turn, one)) return []
    const ids = { assignment: one.id, person: one.personId, piece: one.pieceId, place: one.placeId, since: one.at }
    if (worksOfTurn(records, one.id).length > 0) return [finding('R7', 'begun-since', ids)]
    if (one.how === 'claimed' && one.personId !== authorId && canBe(records, date, one))
      return [finding('R7', 'claimed-since', ids)]
    return []
  })
}

/** False for a claim that the day has overtaken: the place broke, the step is done, its person is away. */
const canBe = (records: Records, date: string, claim: Turn): boolean =>
  judgeDay(records, date, [claim]).every(({ code }) => code.startsWith('mentor-'))

/** The same person on the same step at the same place in the same shift. */
export function isSameTurn(a: Turn, b: Turn): boolean {
  return (
    a.shiftId === b.shiftId &&
    a.personId === b.personId &&
    a.pieceId === b.pieceId &&
    a.stepId === b.stepId &&
    a.placeId === b.placeId
  )
}
