// Somebody leaves and asks for their data to go. What is private about them leaves the records in one act; the scientific
// record keeps who did what, under the attribution they chose. The server then takes the same out of its log
// (server/forgetting.ts). Health records, which law asks to be kept for decades, and hours given stay.
import {
  type AnyRecord,
  type Change,
  finding,
  type Kind,
  type Person,
  put,
  type RecordOf,
  type Records,
  remove,
} from '#lib/words'
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
    spells: [],
    crafts: [],
    pathId: null,
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

/**
 * What is private of a person, by kind, and the fields that name whom it is about: the one list of what goes with somebody,
 * from the records and from the log (server/forgetting.ts).
 */
const privateKinds = {
  contact: ['id'],
  lately: ['id'],
  ack: ['id'],
  signing: ['personId'],
  signOffAsk: ['personId'],
  attendance: ['personId'],
  swap: ['personId'],
  hold: ['personId'],
  reseat: ['personId'],
  watch: ['personId'],
  noShow: ['personId'],
  privateNote: ['aboutPersonId'],
  forbid: ['personId', 'withPersonId'],
} as const satisfies { readonly [K in Kind]?: readonly (keyof RecordOf<K>)[] }

/** True when a record says nothing but what is private of the person. */
export function isPrivateOf(kind: Kind, record: AnyRecord, personId: string): boolean {
  const fields: readonly string[] = kind in privateKinds ? privateKinds[kind as keyof typeof privateKinds] : []
  return fields.some((field) => Reflect.get(record, field) === personId)
}

/** The removals of all that is private about somebody. */
function privateOf(records: Records, personId: string): readonly Change[] {
  const changes: Change[] = []
  for (const kind of Object.keys(privateKinds) as Kind[])
    for (const record of records[kind].values())
      if (isPrivateOf(kind, record, personId)) changes.push(remove(kind, record.id))
  return changes
}
