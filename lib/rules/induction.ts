// What somebody has not been through yet: nobody is put to work before the items that the lab requires. Work that is begun
// is past asking, as with all that stands against a person.
import type { InductionItem, Person, Records } from '#lib/words'
import { labOf } from './find.ts'

/** Whether a person has been through an item. */
export const hasItem = ({ inducted = [] }: Readonly<Person>, itemId: string): boolean =>
  inducted.some((one) => one.itemId === itemId)

/** Required items that turns on a date ask for and the person has not been through, in the lab's order. */
export function missingInduction(records: Records, person: Readonly<Person>, date: string): readonly InductionItem[] {
  return (labOf(records)?.induction ?? []).filter(
    ({ id, isRequired, from }) => isRequired && from <= date && !hasItem(person, id),
  )
}
