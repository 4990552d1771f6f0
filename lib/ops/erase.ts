// Somebody leaves and asks for their data to go. What is private about them leaves the records in one act; the scientific
// record keeps who did what, under the attribution they chose. The server then takes the same out of its log
// (server/forgetting.ts). Health records, which law asks to be kept for decades, and hours given stay.
import { type Change, finding, type Kind, type Person, put, type Records, remove } from '#lib/words'
import { by, defineOp } from './op.ts'
import { begunWork, isSameName, must, unknown, unless } from './parts.ts'
import { hasManager } from './people.ts'

export const erasePerson = defineOp<'erasePerson'>({
  kind: 'erasePerson',
  roles: by.manager,
  keepsDays: true,
  judge: (records, { personId }, who) => {
    const person = records.person.get(personId)
    if (!person) return [unknown('person', personId)]
    const work = begunWork(records).find((one) => one.personId === personId)
    return [
      ...unless(!person.erased, 'O', 'as-it-is', { person: personId }),
      // Somebody else must be there to answer for it.
      ...unless(personId !== who.personId, 'O', 'own-erasure', { person: personId }),
      ...unless(hasManager(records, { ...person, isActive: false }), 'O', 'last-manager', { person: personId }),
      ...(work ? [finding('O', 'still-worked', { person: personId, piece: work.pieceId })] : []),
    ]
  },
  apply: (records, { personId, as }, _who, when) => {
    const person = must(records.person.get(personId), 'a person')
    return [put('person', nameless(records, person, as, when.date)), ...privateOf(records, personId)]
  },
})

/** The person as the record keeps them: an attribution and no more. */
function nameless(
  records: Records,
  person: Readonly<Person>,
  as: 'name' | 'initials' | 'volunteer',
  on: string,
): Person {
  const named = { name: person.name, initials: initialsOf(person), volunteer: 'a volunteer' }[as]
  return {
    ...person,
    name: freeName(records, person.id, named),
    familyName: as === 'name' ? person.familyName : '',
    skills: [],
    pattern: [],
    exceptions: [],
    loves: [],
    isActive: false,
    erased: { on, as },
  }
}

const initialsOf = ({ name, familyName }: Readonly<Person>): string =>
  [name, familyName]
    .flatMap((one) => (one.trim() === '' ? [] : [`${[...one.trim()][0]?.toLocaleUpperCase('en')}.`]))
    .join(' ')

/** The name with a number where somebody has it already. */
function freeName(records: Records, personId: string, name: string): string {
  const taken = (wanted: string) =>
    [...records.person.values()].some((one) => one.id !== personId && isSameName(one.name, wanted))
  let free = name
  // Ends: there are fewer people than numbers to try.
  for (let n = 2; taken(free); n++) free = `${name} ${n}`
  return free
}

/** Kinds whose record is one person's own, by its id or its `personId`. */
const ownKinds: readonly Kind[] = ['contact', 'lately', 'ack', 'signing', 'signOffAsk', 'attendance', 'swap', 'hold']

/** The removals of all that is private about somebody. */
function privateOf(records: Records, personId: string): readonly Change[] {
  const changes: Change[] = []
  for (const kind of ownKinds)
    for (const record of records[kind].values())
      if (record.id === personId || Reflect.get(record, 'personId') === personId) changes.push(remove(kind, record.id))
  for (const note of records.privateNote.values())
    if (note.aboutPersonId === personId) changes.push(remove('privateNote', note.id))
  for (const wish of records.forbid.values())
    if (wish.personId === personId || wish.withPersonId === personId) changes.push(remove('forbid', wish.id))
  return changes
}
