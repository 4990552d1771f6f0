// Turns from hand to hand: one's own that could be offered, those that others offer, and what changed hands lately.
import { minuteOf } from '#lib/base'
import { pieceOf, shiftOf, techniqueOfStep, worksOfTurn } from '#lib/rules'
import type { RecordOf, Records, Shift, Technique } from '#lib/words'

/** A turn that can change hands. */
export type OfferedTurn = {
  readonly assignment: RecordOf<'assignment'>
  readonly shift: Readonly<Shift>
  readonly place: RecordOf<'place'>
  readonly technique: Readonly<Technique>
  /** Number of the piece. */
  readonly number: string
  /** Whose it is. */
  readonly name: string
  /** The offer, while nobody has taken it. */
  readonly swap: RecordOf<'swap'> | null
}

type At = { readonly date: string; readonly minute: number }

/** One's own turns that are not over and not begun, soonest first. */
export const ownTurns = (records: Records, personId: string, at: At): readonly OfferedTurn[] =>
  openTurns(records, at, (one) => one.personId === personId)

/** Turns that others offer, soonest first. */
export const offersFor = (records: Records, personId: string, at: At): readonly OfferedTurn[] =>
  openTurns(records, at, (one) => one.personId !== personId && records.swap.get(one.id)?.taken === null)

function openTurns(
  records: Records,
  at: At,
  isWanted: (one: RecordOf<'assignment'>) => boolean,
): readonly OfferedTurn[] {
  const found: OfferedTurn[] = []
  for (const assignment of records.assignment.values()) {
    if (assignment.date < at.date || !isWanted(assignment)) continue
    const shift = shiftOf(records, assignment.shiftId)
    const place = records.place.get(assignment.placeId)
    const piece = pieceOf(records, assignment.pieceId)
    const technique = techniqueOfStep(records, assignment.stepId)
    if (!shift || !place || !piece || !technique) continue
    if (assignment.date === at.date && minuteOf(shift.end) <= at.minute) continue
    if (worksOfTurn(records, assignment.id).length > 0) continue
    const number = 'number' in piece ? piece.number : piece.fieldNumber
    const name = records.person.get(assignment.personId)?.name ?? ''
    const swap = records.swap.get(assignment.id)
    found.push({ assignment, shift, place, technique, number, name, swap: swap?.taken === null ? swap : null })
  }
  const startOf = ({ assignment, shift }: OfferedTurn) => `${assignment.date} ${shift.start} ${assignment.id}`
  return found.toSorted((a, b) => (startOf(a) < startOf(b) ? -1 : 1))
}

/** Offers and what was taken, for whoever looks after the day; newest first. */
export const swapsSeen = (records: Records): readonly RecordOf<'swap'>[] =>
  [...records.swap.values()]
    .filter((swap) => swap.taken !== null || records.assignment.has(swap.id))
    .toSorted((a, b) => ((a.taken?.at ?? a.at) < (b.taken?.at ?? b.at) ? 1 : -1))
