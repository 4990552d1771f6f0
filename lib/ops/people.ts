// Who people are and what they are signed off for.
import { daysBetween } from '#lib/base'
import { pieceOf, techniqueOf } from '#lib/rules'
import { type Finding, finding, type Person, put, type Records, remove } from '#lib/words'
import { by, defineOp } from './op.ts'
import { formerOf, isSameName, must, patched, unknown, unless } from './parts.ts'

function nameTaken(records: Records, name: string | undefined, exceptId: string): readonly Finding[] {
  if (name === undefined) return []
  for (const person of records.person.values()) {
    if (person.id !== exceptId && isSameName(person.name, name)) {
      return [finding('O', 'name-taken', { person: person.id, name })]
    }
  }
  return []
}

export const addPerson = defineOp<'addPerson'>({
  kind: 'addPerson',
  roles: by.manager,
  judge: (records, { person }) => {
    const techniques = person.skills.map((skill) => skill.techniqueId)
    const strange = techniques.find((id) => !techniqueOf(records, id))
    return [
      ...unless(!records.person.has(person.id), 'O', 'id-taken', { person: person.id }),
      ...nameTaken(records, person.name, person.id),
      ...unless(strange === undefined, 'O', 'unknown-technique', { technique: strange ?? '' }),
      ...unless(new Set(techniques).size === techniques.length, 'O', 'skill-twice', { person: person.id }),
    ]
  },
  apply: (_records, { person }) => [put('person', person)],
})

export const editPerson = defineOp<'editPerson'>({
  kind: 'editPerson',
  roles: by.everybody,
  keepsDays: true,
  judge: (records, { personId, patch }, who) => {
    const person = records.person.get(personId)
    if (!person) return [unknown('person', personId)]
    if (who.role !== 'manager' && who.role !== 'system') {
      // What one loves and brings along is one's own to say; everything else about a person is the manager's.
      const isOwn = personId === who.personId && Object.keys(patch).every((key) => key === 'loves' || key === 'crafts')
      return isOwn ? [] : [finding('O', 'role', { role: who.role, person: personId })]
    }
    return [
      ...nameTaken(records, patch.name, personId),
      ...unless(hasManager(records, patched(person, patch)), 'O', 'last-manager', { person: personId }),
    ]
  },
  apply: (records, { personId, patch }) => [
    put('person', patched(must(records.person.get(personId), 'a person'), patch)),
  ],
  inverse: (records, { personId, patch }, id) => {
    const person = records.person.get(personId)
    // A patch cannot say that a field was not there.
    const former = person && { crafts: [], pathId: null, isSafety: false, ...person }
    return former ? { id, kind: 'editPerson', personId, patch: formerOf(former, patch) } : null
  },
})

/** True when somebody could still invite and post after this person is changed. */
export function hasManager(records: Records, changed: Readonly<Person>): boolean {
  const isManager = (person: Readonly<Person>) => person.isActive && person.role === 'manager'
  if (isManager(changed)) return true
  for (const person of records.person.values()) if (person.id !== changed.id && isManager(person)) return true
  return false
}

const askId = (personId: string, techniqueId: string) => `${personId}.${techniqueId}`

export const signOff = defineOp<'signOff'>({
  kind: 'signOff',
  roles: by.staff,
  keepsDays: true,
  judge: (records, { id, personId, techniqueId, expiresOn, pieceId }, who, when) => {
    const person = records.person.get(personId)
    if (!person) return [unknown('person', personId)]
    return [
      ...unless(techniqueOf(records, techniqueId), 'O', 'unknown-technique', { technique: techniqueId }),
      // A second pair of eyes is the point of a sign-off; only a manager, who may be alone, writes down their own.
      ...unless(who.role !== 'preparator' || personId !== who.personId, 'O', 'own-skill', { person: personId }),
      ...unless(expiresOn === null || daysBetween(when.date, expiresOn) >= 0, 'O', 'past', { date: expiresOn ?? '' }),
      ...unless(pieceId === undefined || pieceOf(records, pieceId), 'O', 'unknown-piece', { piece: pieceId ?? '' }),
      ...unless(!records.signing.has(id), 'R6', 'only-added', { record: id }),
      ...unless(person.skills.length < 60, 'O', 'too-many', { person: personId }),
    ]
  },
  apply: (records, { id, personId, techniqueId, level, expiresOn, pieceId, note = '' }, who, when) => {
    const person = must(records.person.get(personId), 'a person')
    const others = person.skills.filter((skill) => skill.techniqueId !== techniqueId)
    const signer = who.role === 'system' ? null : who.personId
    const seenOn = pieceId === undefined ? {} : { pieceId }
    const skill = { techniqueId, level, by: signer, on: when.date, expiresOn, ...seenOn }
    const signing = { id, personId, techniqueId, level, by: signer, at: when.at, expiresOn, note }
    const ask = records.signOffAsk.get(askId(personId, techniqueId))
    return [
      put('person', { ...person, skills: level === 0 ? others : [...others, skill] }),
      put('signing', { ...signing, pieceId: pieceId ?? null }),
      ...(ask ? [remove('signOffAsk', ask.id)] : []),
    ]
  },
  // The record of the sign-off stays; a second one takes it back.
  inverse: (records, { personId, techniqueId }, id) => {
    const skill = records.person.get(personId)?.skills.find((one) => one.techniqueId === techniqueId)
    const { level, expiresOn } = skill ?? { level: 0, expiresOn: null }
    const seenOn = skill?.pieceId === undefined ? {} : { pieceId: skill.pieceId }
    return { id, kind: 'signOff', personId, techniqueId, level, expiresOn, ...seenOn }
  },
})

export const askSignOff = defineOp<'askSignOff'>({
  kind: 'askSignOff',
  roles: by.crew,
  judge: (records, { techniqueId }, who) => {
    const skill = records.person.get(who.personId)?.skills.find((one) => one.techniqueId === techniqueId)
    return [
      ...unless(techniqueOf(records, techniqueId), 'O', 'unknown-technique', { technique: techniqueId }),
      // At the top there is still something to ask for when the sign-off runs out.
      ...unless(!skill || skill.level < 4 || skill.expiresOn !== null, 'O', 'nothing-above', {
        technique: techniqueId,
      }),
    ]
  },
  apply: (_records, { techniqueId, note }, who, when) => [
    put('signOffAsk', {
      id: askId(who.personId, techniqueId),
      personId: who.personId,
      techniqueId,
      at: when.at,
      note,
    }),
  ],
  inverse: (records, { techniqueId }, id, who) => {
    const asked = askId(who.personId, techniqueId)
    const former = records.signOffAsk.get(asked)
    return former
      ? { id, kind: 'askSignOff', techniqueId, note: former.note }
      : { id, kind: 'dropSignOffAsk', askId: asked }
  },
})

export const dropSignOffAsk = defineOp<'dropSignOffAsk'>({
  kind: 'dropSignOffAsk',
  roles: by.crew,
  judge: (records, op, who) => {
    const ask = records.signOffAsk.get(op.askId)
    if (!ask) return [finding('O', 'unknown-ask', { ask: op.askId })]
    return unless(ask.personId === who.personId, 'O', 'not-yours', { person: ask.personId })
  },
  apply: (_records, op) => [remove('signOffAsk', op.askId)],
  inverse: (records, op, id) => {
    const ask = records.signOffAsk.get(op.askId)
    return ask ? { id, kind: 'askSignOff', techniqueId: ask.techniqueId, note: ask.note } : null
  },
})

export const setContact = defineOp<'setContact'>({
  kind: 'setContact',
  roles: by.crew,
  judge: (records, { contact }, who) => [
    ...unless(records.person.has(contact.id), 'O', 'unknown-person', { person: contact.id }),
    ...unless(isOwnOrManagers(contact.id, who), 'O', 'not-yours', { person: contact.id }),
  ],
  apply: (_records, { contact }) => [put('contact', contact)],
})

function isOwnOrManagers(personId: string, who: { readonly personId: string; readonly role: string }): boolean {
  return personId === who.personId || who.role === 'manager' || who.role === 'system'
}

export const writePrivateNote = defineOp<'writePrivateNote'>({
  kind: 'writePrivateNote',
  roles: by.manager,
  judge: (records, { note }) => [
    ...unless(!records.privateNote.has(note.id), 'O', 'id-taken', { note: note.id }),
    ...unless(note.text.trim().length > 0, 'O', 'empty-text'),
    ...unless(note.aboutPersonId === null || records.person.has(note.aboutPersonId), 'O', 'unknown-person', {
      person: note.aboutPersonId ?? '',
    }),
  ],
  apply: (_records, { note }, who, when) => [put('privateNote', { ...note, by: who.personId, at: when.at })],
})
