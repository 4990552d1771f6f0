// Who has been through which item of the induction, ticked by staff.
import { hasItem, labOf } from '#lib/rules'
import { type Person, put, type Records } from '#lib/words'
import { by, defineOp } from './op.ts'
import { unknown, unless } from './parts.ts'

export const tickInduction = defineOp<'tickInduction'>({
  kind: 'tickInduction',
  roles: by.staff,
  keepsDays: true,
  judge: (records, { itemId, personIds, isDone }) => {
    const item = labOf(records)?.induction?.find(({ id }) => id === itemId)
    const stranger = personIds.find((id) => !records.person.has(id))
    return [
      ...unless(item, 'O', 'item-gone'),
      ...(stranger === undefined ? [] : [unknown('person', stranger)]),
      ...unless(changed(records, itemId, personIds, isDone).length > 0, 'O', 'as-it-is'),
    ]
  },
  apply: (records, { itemId, personIds, isDone }, who, when) =>
    changed(records, itemId, personIds, isDone).map((person) => {
      const others = (person.inducted ?? []).filter((one) => one.itemId !== itemId)
      const inducted = isDone ? [...others, { itemId, by: who.personId, on: when.date }] : others
      return put('person', { ...person, inducted })
    }),
  // A tick that was taken off says by whom and when it was given: ticking anew says other things.
  inverse: (records, { itemId, personIds, isDone }, id) =>
    isDone
      ? {
          ...{ id, kind: 'tickInduction', itemId, isDone: false },
          personIds: changed(records, itemId, personIds, true).map((person) => person.id),
        }
      : null,
})

/** Those for whom the tick changes anything. */
function changed(
  records: Records,
  itemId: string,
  personIds: readonly string[],
  isDone: boolean,
): readonly Readonly<Person>[] {
  return [...new Set(personIds)].flatMap((id) => {
    const person = records.person.get(id)
    return person && hasItem(person, itemId) !== isDone ? [person] : []
  })
}
