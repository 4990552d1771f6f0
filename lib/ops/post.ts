// A line-up becomes everybody's. The whole day is judged on the records of this moment, so an old proposal cannot
// bring in what is no longer allowed, nor push aside a claim or begun work that came in between.
import { assignmentsOn, isFinished, isSameTurn, judgeDay, judgeDisplaced, judgeHandsOfDay, turnId } from '#lib/rules'
import { type Assignment, type Finding, finding, put, type Records, remove } from '#lib/words'
import { by, defineOp, type When, type Who } from './op.ts'
import { reseatsFor } from './reseats.ts'
import type { OpOf } from './shapes/index.ts'
import { forbidAgainst, judgeDate, turnOf } from './wishes.ts'

export const post = defineOp<'post'>({
  kind: 'post',
  roles: by.manager,
  judge: (records, op, who, when) => {
    const early = judgeDate(op.date, when)
    if (early.length > 0) return early
    // What is finished is past: it stays on the day whatever has changed since.
    const onDay = [
      ...judgeDay(records, op.date, op.assignments),
      ...judgeHandsOfDay(records, op.date, op.assignments),
    ].filter((one) => !isFinished(records, one.ids.assignment))
    return [...judgeDisplaced(records, op.date, op.assignments, who.personId), ...onDay, ...judgeForbidden(records, op)]
  },
  apply: (records, op, who, when) => {
    const wanted = new Map(resulting(records, op, who, when).map((one) => [one.id, one]))
    const former = records.day.get(op.date)
    return [
      ...reseatsFor(records, op.date, wanted, who, when),
      put('day', {
        id: op.date,
        postedAt: when.at,
        postedBy: who.personId,
        times: (former?.times ?? 0) + 1,
        note: op.note,
      }),
      ...assignmentsOn(records, op.date).flatMap((one) => (wanted.has(one.id) ? [] : [remove('assignment', one.id)])),
      ...[...wanted.values()].flatMap((one) =>
        records.assignment.get(one.id) === one ? [] : [put('assignment', one)],
      ),
    ]
  },
})

/** The day's assignments after the post: what stays the same keeps how it came about, so that nobody is told twice. */
function resulting(records: Records, op: OpOf<'post'>, who: Who, when: When): readonly Readonly<Assignment>[] {
  return op.assignments.map((turn) => {
    const id = turnId(op.date, turn.shiftId, turn.personId)
    const former = records.assignment.get(id)
    const held = records.hold.get(id)
    const isHeld = held !== undefined && isSameTurn(held, turn)
    if (former && isSameTurn(former, turn)) {
      return isHeld && former.how === 'drawn' ? { ...former, how: 'held' } : former
    }
    return { id, date: op.date, ...turnOf(turn), how: isHeld ? 'held' : 'drawn', by: who.personId, at: when.at }
  })
}

/** New turns that go against a forbid; what was on the day already is not asked again. */
function judgeForbidden(records: Records, op: OpOf<'post'>): readonly Finding[] {
  return op.assignments.flatMap((turn) => {
    const id = turnId(op.date, turn.shiftId, turn.personId)
    const former = records.assignment.get(id)
    if (former && isSameTurn(former, turn)) return []
    const wish = forbidAgainst(records, op.date, turn, op.assignments)
    return wish ? [finding('O', 'forbidden', { assignment: id, person: turn.personId, forbid: wish.id })] : []
  })
}
