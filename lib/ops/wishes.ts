// Holds and forbids: what every draw-up keeps and what it must not do. They live in the office document and are not
// everybody's until the day is posted.
import { daysBetween } from '#lib/base'
import { isSameTurn, judgeDay, pieceOf, type Turn, turnId } from '#lib/rules'
import { type Change, type Finding, type Forbid, finding, type Hold, put, type Records, remove } from '#lib/words'
import { by, defineOp, type When } from './op.ts'
import { DAYS_AHEAD_MAX, must, unknown, unless } from './parts.ts'

/** A day that can still be planned: today or later, and not out of sight. */
export function judgeDate(date: string, when: When): readonly Finding[] {
  const ahead = daysBetween(when.date, date)
  return [
    ...unless(ahead >= 0, 'O', 'past', { date }),
    ...unless(ahead <= DAYS_AHEAD_MAX, 'O', 'too-far', { date }, { days: DAYS_AHEAD_MAX }),
  ]
}

/** The fields of a turn alone, in one order. */
export function turnOf<T extends Turn>({ shiftId, personId, pieceId, stepId, placeId }: T) {
  return { shiftId, personId, pieceId, stepId, placeId } satisfies Turn
}

/** The posted turn of the same key takes over whether it is held. */
function markHow(records: Records, hold: Readonly<Hold>, from: 'drawn' | 'held', to: 'drawn' | 'held') {
  const turn = records.assignment.get(hold.id)
  return turn && turn.how === from && isSameTurn(turn, hold) ? [put('assignment', { ...turn, how: to })] : []
}

/** A mentor may still be held beside a learner; all else that stands against the turn alone stands against the hold. */
export function judgeHoldAlone(records: Records, date: string, turn: Turn): readonly Finding[] {
  return judgeDay(records, date, [turn]).filter((one) => !one.code.startsWith('mentor-'))
}

export const hold = defineOp<'hold'>({
  kind: 'hold',
  roles: by.staff,
  judge: (records, op, _who, when) => {
    const id = turnId(op.date, op.shiftId, op.personId)
    const begun = [...records.work.values()].find((one) => turnId(one.date, one.shiftId, one.personId) === id)
    const isBegunElse = begun !== undefined && (begun.stepId !== op.stepId || begun.placeId !== op.placeId)
    return [
      ...judgeDate(op.date, when),
      ...(isBegunElse ? [finding('R7', 'begun-since', { person: op.personId, piece: begun.pieceId })] : []),
      ...judgeHoldAlone(records, op.date, op),
    ]
  },
  apply: (records, op) => {
    const record: Hold = { id: turnId(op.date, op.shiftId, op.personId), date: op.date, ...turnOf(op) }
    const former = records.hold.get(record.id)
    const released = former && !isSameTurn(former, record) ? markHow(records, former, 'held', 'drawn') : []
    return [put('hold', record), ...(released.length > 0 ? released : markHow(records, record, 'drawn', 'held'))]
  },
  inverse: (records, op, id) => {
    const holdId = turnId(op.date, op.shiftId, op.personId)
    const former = records.hold.get(holdId)
    return former ? { id, kind: 'hold', date: former.date, ...turnOf(former) } : { id, kind: 'unhold', holdId }
  },
})

export const unhold = defineOp<'unhold'>({
  kind: 'unhold',
  roles: by.staff,
  judge: (records, { holdId }) => (records.hold.has(holdId) ? [] : [unknown('hold', holdId)]),
  apply: (records, { holdId }) => {
    const record = must(records.hold.get(holdId), 'a hold')
    return [remove('hold', holdId), ...markHow(records, record, 'held', 'drawn')]
  },
  inverse: (records, { holdId }, id) => {
    const former = records.hold.get(holdId)
    return former ? { id, kind: 'hold', date: former.date, ...turnOf(former) } : null
  },
})

export const forbid = defineOp<'forbid'>({
  kind: 'forbid',
  roles: by.staff,
  judge: (records, { forbid: wish }) => [
    ...unless(!records.forbid.has(wish.id), 'O', 'id-taken', { forbid: wish.id }),
    ...unless(records.person.has(wish.personId), 'O', 'unknown-person', { person: wish.personId }),
    ...unless(wish.pieceId ?? wish.placeId ?? wish.withPersonId, 'O', 'forbids-nothing'),
    ...unless(wish.pieceId === null || pieceOf(records, wish.pieceId), 'O', 'unknown-piece', {
      piece: wish.pieceId ?? '',
    }),
    ...unless(wish.placeId === null || records.place.has(wish.placeId), 'O', 'unknown-place', {
      place: wish.placeId ?? '',
    }),
    ...unless(
      wish.withPersonId === null || (records.person.has(wish.withPersonId) && wish.withPersonId !== wish.personId),
      'O',
      'unknown-person',
      { person: wish.withPersonId ?? '' },
    ),
  ],
  apply: (_records, op) => [put('forbid', op.forbid)],
  inverse: (_records, op, id) => ({ id, kind: 'allow', forbidId: op.forbid.id }),
})

export const allow = defineOp<'allow'>({
  kind: 'allow',
  roles: by.staff,
  judge: (records, { forbidId }) => (records.forbid.has(forbidId) ? [] : [unknown('forbid', forbidId)]),
  apply: (_records, { forbidId }): readonly Change[] => [remove('forbid', forbidId)],
  inverse: (records, { forbidId }, id) => {
    const former = records.forbid.get(forbidId)
    return former ? { id, kind: 'forbid', forbid: former } : null
  },
})

/** The forbid that a turn goes against, given the other turns of its shift; undefined when none. */
export function forbidAgainst(
  records: Records,
  date: string,
  turn: Turn,
  others: readonly Turn[],
): Readonly<Forbid> | undefined {
  const isBeside = (personId: string) =>
    others.some(
      (other) => other.personId === personId && other.shiftId === turn.shiftId && other.placeId === turn.placeId,
    )
  return [...records.forbid.values()].find((wish) => {
    if (wish.date !== null && wish.date !== date) return false
    const isPair = wish.withPersonId !== null
    if (isPair && wish.withPersonId === turn.personId) return matches(wish, turn) && isBeside(wish.personId)
    if (wish.personId !== turn.personId) return false
    return matches(wish, turn) && (!isPair || isBeside(wish.withPersonId ?? ''))
  })
}

/** What is named besides the people must all be so. */
function matches(wish: Readonly<Forbid>, turn: Turn): boolean {
  return (
    (wish.pieceId === null || wish.pieceId === turn.pieceId) && (wish.placeId === null || wish.placeId === turn.placeId)
  )
}
