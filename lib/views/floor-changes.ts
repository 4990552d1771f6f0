// A line-up beside another: who goes where, who stays, what is new. The tracing sheet numbers these changes once, and
// the same number stands in the plan and in the margin.
import type { PersonId, ShiftId } from '#lib/words'
import type { Turn } from './floor-day.ts'

/** One change between two line-ups, for one person in one shift. */
export type TurnChange = {
  readonly n: number
  readonly shiftId: ShiftId
  readonly personId: PersonId
  /** `seat`: had none; `leave`: has none now; `move`: another place; `piece`: same place, another piece or step. */
  readonly what: 'seat' | 'leave' | 'move' | 'piece'
  readonly from: Turn | null
  readonly to: Turn | null
}

export type LineUpChanges = {
  readonly changes: readonly TurnChange[]
  readonly stay: number
  /** Of those that stay, how many are held. */
  readonly held: number
}

/** What changes from one line-up to another, in the order of shifts given and of the new line-up. */
export function changesBetween(
  before: readonly Turn[],
  after: readonly Turn[],
  shiftIds: readonly ShiftId[],
): LineUpChanges {
  const key = (turn: Turn) => `${turn.shiftId}.${turn.personId}`
  const was = new Map(before.map((turn) => [key(turn), turn]))
  const is = new Map(after.map((turn) => [key(turn), turn]))
  const changes: Omit<TurnChange, 'n'>[] = []
  let stay = 0
  let held = 0
  for (const shiftId of shiftIds) {
    for (const to of after) {
      if (to.shiftId !== shiftId) continue
      const from = was.get(key(to)) ?? null
      if (from && isSame(from, to)) {
        stay++
        if (to.how === 'held') held++
        continue
      }
      const what = !from ? 'seat' : from.placeId !== to.placeId ? 'move' : 'piece'
      changes.push({ shiftId, personId: to.personId, what, from, to })
    }
    for (const from of before) {
      if (from.shiftId !== shiftId || is.has(key(from))) continue
      changes.push({ shiftId, personId: from.personId, what: 'leave', from, to: null })
    }
  }
  return { changes: changes.map((change, index) => ({ ...change, n: index + 1 })), stay, held }
}

/** The same person on the same step of the same piece at the same place. */
function isSame(a: Turn, b: Turn): boolean {
  return a.pieceId === b.pieceId && a.stepId === b.stepId && a.placeId === b.placeId
}
