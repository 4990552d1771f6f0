// Who would come to a day and is not planned, since something of the induction is missing: a draw-up does not know them.
import { isOfCrew, missingInduction, presenceOf } from '#lib/rules'
import type { RecordOf, Records } from '#lib/words'
import { shiftsOn } from './floor-presence.ts'

export type NotInducted = {
  readonly person: RecordOf<'person'>
  /** Names of the missing items, in the induction's order. */
  readonly items: readonly string[]
}

/** Everybody of the crew who comes in some shift of the date and may not be put to work yet, by name. */
export function notInductedOn(records: Records, date: string): readonly NotInducted[] {
  const lab = records.lab.get('lab')
  const shifts = lab ? shiftsOn(lab, date) : []
  return [...records.person.values()]
    .filter((person) => isOfCrew(person))
    .flatMap((person) => {
      const items = missingInduction(records, person, date).map(({ name }) => name)
      const comes = shifts.some(({ id }) => {
        const { isIn, isAway } = presenceOf(records, person, date, id)
        return isIn && !isAway
      })
      return items.length > 0 && comes ? [{ person, items }] : []
    })
    .sort((a, b) => (a.person.name < b.person.name ? -1 : 1))
}
