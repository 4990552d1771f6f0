// When people come: the weekly pattern, exceptions from it, and the tick on the day. All of it is fact, said by the
// person or by staff; nothing here is refused because a line-up would rather have it otherwise.
import { daysBetween } from '#lib/base'
import { shiftOf, turnId } from '#lib/rules'
import { type Finding, finding, type Person, put, type Records, remove } from '#lib/words'
import { by, defineOp, type Who } from './op.ts'
import { isStaff, must, unknown, unless } from './parts.ts'

/** Exceptions a person keeps: the record's own bound. */
const EXCEPTIONS_MAX = 400
/** How far back staff may still correct a tick; older ticks are gone. */
const TICK_DAYS_BACK = 7
const DAYS_AHEAD = 400

function knownPerson(records: Records, personId: string, who: Who, maySetOthers: boolean): readonly Finding[] {
  if (!records.person.has(personId)) return [unknown('person', personId)]
  return personId === who.personId || maySetOthers ? [] : [finding('O', 'not-yours', { person: personId })]
}

function knownShift(records: Records, shiftId: string): readonly Finding[] {
  return shiftOf(records, shiftId) ? [] : [unknown('shift', shiftId)]
}

export const setPattern = defineOp<'setPattern'>({
  kind: 'setPattern',
  roles: by.crew,
  judge: (records, { personId, pattern }, who) => [
    ...knownPerson(records, personId, who, who.role === 'manager' || who.role === 'system'),
    ...[...new Set(pattern.map((one) => one.shiftId))].flatMap((shiftId) => knownShift(records, shiftId)),
    ...unless(
      new Set(pattern.map((one) => `${one.weekday} ${one.shiftId}`)).size === pattern.length,
      'O',
      'pattern-twice',
      { person: personId },
    ),
  ],
  apply: (records, { personId, pattern }) => [
    put('person', { ...must(records.person.get(personId), 'a person'), pattern }),
  ],
  inverse: (records, { personId }, id) => {
    const person = records.person.get(personId)
    return person ? { id, kind: 'setPattern', personId, pattern: person.pattern } : null
  },
})

export const setException = defineOp<'setException'>({
  kind: 'setException',
  roles: by.crew,
  judge: (records, { personId, date, shiftId }, who, when) => [
    ...knownPerson(records, personId, who, isStaff(who)),
    ...(shiftId === null ? [] : knownShift(records, shiftId)),
    ...unless(daysBetween(when.date, date) >= 0, 'O', 'past', { date }),
    ...unless(daysBetween(when.date, date) <= DAYS_AHEAD, 'O', 'too-far', { date }, { days: DAYS_AHEAD }),
  ],
  apply: (records, { personId, date, shiftId, exception }) => {
    const person = must(records.person.get(personId), 'a person')
    const others = person.exceptions.filter((one) => one.date !== date || one.shiftId !== shiftId)
    const all = exception === null ? others : [...others, { date, shiftId, kind: exception }]
    return [put('person', { ...person, exceptions: inOrder(all) })]
  },
  inverse: (records, { personId, date, shiftId }, id) => {
    const person = records.person.get(personId)
    if (!person) return null
    const former = person.exceptions.find((one) => one.date === date && one.shiftId === shiftId)
    // What a calendar said is for the calendar to say again.
    if (former?.isFromCalendar) return null
    return { id, kind: 'setException', personId, date, shiftId, exception: former?.kind ?? null }
  },
})

export const setSpells = defineOp<'setSpells'>({
  kind: 'setSpells',
  roles: by.crew,
  judge: (records, { personId, spells }, who) => [
    ...knownPerson(records, personId, who, who.role === 'manager' || who.role === 'system'),
    ...spells.flatMap(({ from, to, pattern }) => [
      ...unless(from <= to, 'O', 'span-backwards', { date: from }),
      ...[...new Set(pattern.map((one) => one.shiftId))].flatMap((shiftId) => knownShift(records, shiftId)),
    ]),
  ],
  apply: (records, { personId, spells }) => [
    put('person', { ...must(records.person.get(personId), 'a person'), spells }),
  ],
  inverse: (records, { personId }, id) => {
    const person = records.person.get(personId)
    return person ? { id, kind: 'setSpells', personId, spells: person.spells ?? [] } : null
  },
})

export const takeCalendar = defineOp<'takeCalendar'>({
  kind: 'takeCalendar',
  roles: by.crew,
  judge: (records, { from, to, busy }, who, when) => [
    ...knownPerson(records, who.personId, who, true),
    ...unless(from <= to, 'O', 'span-backwards', { date: from }),
    ...unless(daysBetween(when.date, from) >= 0, 'O', 'past', { date: from }),
    ...unless(daysBetween(when.date, to) <= DAYS_AHEAD, 'O', 'too-far', { date: to }, { days: DAYS_AHEAD }),
    ...[...new Set(busy.map((one) => one.shiftId))].flatMap((shiftId) => knownShift(records, shiftId)),
    ...unless(
      busy.every(({ date }) => from <= date && date <= to),
      'O',
      'span-backwards',
      { date: from },
    ),
  ],
  apply: (records, { from, to, busy }, who) => {
    const person = must(records.person.get(who.personId), 'a person')
    const kept = person.exceptions.filter(({ date, isFromCalendar }) => !isFromCalendar || date < from || date > to)
    // What somebody said by hand stands against what the calendar says.
    const isSaid = (busy: { readonly date: string; readonly shiftId: string }) =>
      kept.some(({ date, shiftId }) => date === busy.date && (shiftId === null || shiftId === busy.shiftId))
    const added = busy
      .filter((one) => !isSaid(one))
      .map((one) => ({ ...one, kind: 'away', isFromCalendar: true }) as const)
    return [put('person', { ...person, exceptions: inOrder([...kept, ...added]) })]
  },
  inverse: (records, { from, to }, id, who) => {
    const former = records.person.get(who.personId)?.exceptions ?? []
    const busy = former.flatMap(({ date, shiftId, isFromCalendar }) =>
      isFromCalendar && shiftId !== null && from <= date && date <= to ? [{ date, shiftId }] : [],
    )
    return { id, kind: 'takeCalendar', from, to, busy }
  },
})

/** By date; the oldest make room, since nobody plans on them any more. */
function inOrder(exceptions: Person['exceptions']): Person['exceptions'] {
  return exceptions.sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0)).slice(-EXCEPTIONS_MAX)
}

export const markNoShow = defineOp<'markNoShow'>({
  kind: 'markNoShow',
  roles: by.manager,
  judge: (records, { personId, date, shiftId, isNoShow }, _who, when) => [
    ...unless(records.person.has(personId), 'O', 'unknown-person', { person: personId }),
    ...unless(date <= when.date, 'O', 'not-yet', { date }),
    ...(isNoShow ? knownShift(records, shiftId) : []),
    ...unless(records.noShow.has(turnId(date, shiftId, personId)) !== isNoShow, 'O', 'as-it-is', { person: personId }),
  ],
  apply: (_records, { personId, date, shiftId, isNoShow }, who, when) => {
    const id = turnId(date, shiftId, personId)
    return isNoShow
      ? [put('noShow', { id, personId, date, shiftId, by: who.personId, at: when.at })]
      : [remove('noShow', id)]
  },
  inverse: (_records, op, id) => ({ ...op, id, isNoShow: !op.isNoShow }),
})

export const attend = defineOp<'attend'>({
  kind: 'attend',
  roles: by.crew,
  judge: (records, { personId, date, shiftId, state, dueAt }, who, when) => {
    const ahead = daysBetween(when.date, date)
    const back = isStaff(who) ? TICK_DAYS_BACK : 0
    return [
      ...knownPerson(records, personId, who, isStaff(who)),
      ...knownShift(records, shiftId),
      ...unless(ahead >= -back, 'O', 'past', { date }),
      ...unless(ahead <= DAYS_AHEAD, 'O', 'too-far', { date }, { days: DAYS_AHEAD }),
      ...unless(ahead <= 0 || (state !== 'in' && state !== 'left'), 'O', 'not-yet', { date }),
      ...unless(dueAt === null || state === 'late', 'O', 'due-without-late', { person: personId }),
    ]
  },
  apply: (records, { personId, date, shiftId, state, dueAt }, _who, when) => {
    const id = turnId(date, shiftId, personId)
    if (state === null) return records.attendance.has(id) ? [remove('attendance', id)] : []
    return [put('attendance', { id, personId, date, shiftId, state, dueAt, at: when.at })]
  },
  inverse: (records, { personId, date, shiftId }, id) => {
    const former = records.attendance.get(turnId(date, shiftId, personId))
    const { state, dueAt } = former ?? { state: null, dueAt: null }
    return { id, kind: 'attend', personId, date, shiftId, state, dueAt }
  },
})
