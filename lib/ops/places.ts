// Places come, move, close and go. A place that somebody sits at from today on, or that a piece lies at, stays.
import { daysBetween } from '#lib/base'
import { type Finding, finding, put, type Records, remove } from '#lib/words'
import { by, defineOp } from './op.ts'
import { begunWork, formerOf, isSameName, must, openFrom, patched, unknown, unless } from './parts.ts'

function codeTaken(records: Records, code: string | undefined, exceptId: string): readonly Finding[] {
  if (code === undefined) return []
  for (const place of records.place.values()) {
    if (place.id !== exceptId && isSameName(place.code, code)) {
      return [finding('O', 'code-taken', { place: place.id, code })]
    }
  }
  return []
}

export const addPlace = defineOp<'addPlace'>({
  kind: 'addPlace',
  roles: by.manager,
  judge: (records, { place }) => [
    ...unless(!records.place.has(place.id), 'O', 'id-taken', { place: place.id }),
    ...codeTaken(records, place.code, place.id),
  ],
  apply: (_records, { place }) => [put('place', place)],
  inverse: (_records, { place }, id) => ({ id, kind: 'removePlace', placeId: place.id }),
})

export const editPlace = defineOp<'editPlace'>({
  kind: 'editPlace',
  roles: by.manager,
  keepsDays: true,
  judge: (records, { placeId, patch }) =>
    records.place.has(placeId) ? codeTaken(records, patch.code, placeId) : [unknown('place', placeId)],
  apply: (records, { placeId, patch }) => [put('place', patched(must(records.place.get(placeId), 'a place'), patch))],
  inverse: (records, { placeId, patch }, id) => {
    const place = records.place.get(placeId)
    // A patch cannot say that a field was not there.
    return place
      ? { id, kind: 'editPlace', placeId, patch: formerOf({ isInView: false, backgroundDba: null, ...place }, patch) }
      : null
  },
})

export const removePlace = defineOp<'removePlace'>({
  kind: 'removePlace',
  roles: by.manager,
  judge: (records, { placeId }, _who, when) => {
    if (!records.place.has(placeId)) return [unknown('place', placeId)]
    const turn = openFrom(records, when.date).find((one) => one.placeId === placeId)
    if (turn) return [finding('O', 'place-in-use', { place: placeId, person: turn.personId, date: turn.date })]
    const work = begunWork(records).find((one) => one.placeId === placeId)
    if (work) return [finding('O', 'place-in-use', { place: placeId, person: work.personId, date: work.date })]
    const held = [...records.hold.values()].find((one) => one.placeId === placeId && one.date >= when.date)
    if (held) return [finding('O', 'place-in-use', { place: placeId, person: held.personId, date: held.date })]
    for (const pieces of [records.jacket, records.specimen]) {
      for (const piece of pieces.values()) {
        if (piece.placeId === placeId) return [finding('O', 'piece-lies-here', { place: placeId, piece: piece.id })]
      }
    }
    return []
  },
  apply: (_records, { placeId }) => [remove('place', placeId)],
  inverse: (records, { placeId }, id) => {
    const place = records.place.get(placeId)
    return place ? { id, kind: 'addPlace', place } : null
  },
})

/** A fact of the day: recorded even when people sit there, so that the day can be drawn up around it. */
export const closePlace = defineOp<'closePlace'>({
  kind: 'closePlace',
  roles: by.staff,
  judge: (records, { placeId, until }, _who, when) => [
    ...unless(records.place.has(placeId), 'O', 'unknown-place', { place: placeId }),
    ...unless(until === null || daysBetween(when.date, until) > 0, 'O', 'past', { date: until ?? '' }),
  ],
  apply: (records, { placeId, until, reason }) => {
    const place = must(records.place.get(placeId), 'a place')
    return [put('place', { ...place, closedUntil: until, closedReason: until === null ? '' : reason })]
  },
  inverse: (records, { placeId }, id) => {
    const place = records.place.get(placeId)
    return place ? { id, kind: 'closePlace', placeId, until: place.closedUntil, reason: place.closedReason } : null
  },
})
