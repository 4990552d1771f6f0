// Checks before use, incidents, air samples and read cautions. Who looks after safety is a mark on a person, beside the
// managers. What is told here is only added to: a correction is a new record that names the old.
import { correctionOf, mayReadSafety } from '#lib/rules'
import { type Ack, type Finding, finding, put, type Records } from '#lib/words'
import { by, defineOp, type Who } from './op.ts'
import { must, unknown, unless } from './parts.ts'

/** The server itself, managers and whoever has the safety mark. */
const looksAfterSafety = (records: Records, who: Who): boolean =>
  who.role === 'system' || mayReadSafety(records, who.personId)

const judgeSafety = (records: Records, who: Who): readonly Finding[] =>
  unless(looksAfterSafety(records, who), 'O', 'not-safety', { role: who.role })

export const setCheck = defineOp<'setCheck'>({
  kind: 'setCheck',
  roles: by.crew,
  judge: (records, { check }, who) => [
    ...judgeSafety(records, who),
    ...unless(check.placeId === null || records.place.has(check.placeId), 'O', 'unknown-place', {
      place: check.placeId ?? '',
    }),
  ],
  apply: (records, { check }) => [put('check', { ...check, last: records.check.get(check.id)?.last ?? null })],
  inverse: (records, { check }, id) => {
    const old = records.check.get(check.id)
    if (!old) return null
    const { last: _last, ...former } = old
    return { id, kind: 'setCheck', check: former }
  },
})

export const doCheck = defineOp<'doCheck'>({
  kind: 'doCheck',
  roles: by.crew,
  judge: (records, { checkId, doneId }) => {
    const check = records.check.get(checkId)
    if (!check?.isActive) return [unknown('check', checkId)]
    return unless(!records.checkDone.has(doneId), 'R6', 'only-added', { record: doneId })
  },
  apply: (records, { doneId, checkId, shiftId, result, note }, who, when) => {
    const check = must(records.check.get(checkId), 'a check')
    const done = { date: when.date, shiftId, by: who.personId, at: when.at, result, note }
    return [put('check', { ...check, last: done }), put('checkDone', { id: doneId, checkId, ...done })]
  },
})

/** What it names must be there, and a correction is its author's or of whoever looks after safety. */
export const reportIncident = defineOp<'reportIncident'>({
  kind: 'reportIncident',
  roles: by.crew,
  judge: (records, { incident }, who) => {
    const { personId, placeId, corrects } = incident
    const old = corrects === null ? undefined : records.incident.get(corrects)
    return [
      ...unless(incident.what.trim() !== '', 'O', 'empty-text'),
      ...unless(personId === null || records.person.has(personId), 'O', 'unknown-person', { person: personId ?? '' }),
      ...unless(placeId === null || records.place.has(placeId), 'O', 'unknown-place', { place: placeId ?? '' }),
      ...unless(!records.incident.has(incident.id), 'R6', 'only-added', { record: incident.id }),
      // In the browser nothing of this is held, so only the server can say more.
      ...unless(old === undefined || old.by === who.personId || looksAfterSafety(records, who), 'O', 'not-safety'),
      ...lineOfCorrections(records, 'incident', corrects),
    ]
  },
  apply: (_records, { incident }, who, when) => [put('incident', { ...incident, by: who.personId, at: when.at })],
})

export const addSample = defineOp<'addSample'>({
  kind: 'addSample',
  roles: by.crew,
  judge: (records, { sample }, who) => [
    ...judgeSafety(records, who),
    ...unless(records.person.has(sample.personId), 'O', 'unknown-person', { person: sample.personId }),
    ...unless(!records.airSample.has(sample.id), 'R6', 'only-added', { record: sample.id }),
    ...lineOfCorrections(records, 'airSample', sample.corrects),
  ],
  apply: (_records, { sample }, who, when) => [put('airSample', { ...sample, by: who.personId, at: when.at })],
})

/** What has been corrected is not corrected again. */
function lineOfCorrections(
  records: Records,
  kind: 'incident' | 'airSample',
  corrects: string | null,
): readonly Finding[] {
  const newer = corrects === null ? null : correctionOf(records, kind, corrects)
  return newer === null ? [] : [finding('R6', 'corrected', { record: corrects ?? '', newer })]
}

/** Cautions of which it is remembered who read them: the record's own bound. */
const SEEN_MAX = 300

export const acknowledge = defineOp<'acknowledge'>({
  kind: 'acknowledge',
  roles: by.crew,
  judge: () => [],
  apply: (records, { seen }, who, when) => {
    const fresh = new Map(seen.map((one) => [one.key, { ...one, on: when.date }]))
    const former: Ack['seen'] = records.ack.get(who.personId)?.seen ?? []
    const all = [...former.filter((one) => !fresh.has(one.key)), ...fresh.values()]
    return [put('ack', { id: who.personId, seen: all.slice(-SEEN_MAX) })]
  },
})
