// A change of one's own seat, said to oneself: what is so now, instead of what, from when.
import { localAt, minuteOf, timeOfMinute } from '#lib/base'
import type { ReseatOf } from '#lib/views'
import type { Records } from '#lib/words'
import { sayDay } from '../_text/index.ts'
import { numberOf } from '../floor/number-of.ts'

/** "Your place changed: M1 instead of A3, from 10:45." */
export function sayReseat(records: Records, { told, now }: ReseatOf, today: string): string {
  const code = (id: string) => records.place.get(id)?.code ?? 'a place'
  const when = fromWords(records, told, today)
  if (!now) return told.was ? `You have no place any more: ${code(told.was.placeId)} is not yours, ${when}.` : ''
  const piece = numberOf(records, now.pieceId)
  if (!told.was) return `You have a place now: ${code(now.placeId)}, on ${piece}, ${when}.`
  const isOtherPiece = told.was.pieceId !== now.pieceId
  if (told.was.placeId !== now.placeId) {
    const on = isOtherPiece ? `, on ${piece}` : ''
    return `Your place changed: ${code(now.placeId)} instead of ${code(told.was.placeId)}${on}, ${when}.`
  }
  return isOtherPiece
    ? `Your piece changed: ${piece} instead of ${numberOf(records, told.was.pieceId)}, ${when}.`
    : `Your step on ${piece} changed, ${when}.`
}

/** From the moment of the change in a running shift, else from its start: "from 10:45", "tomorrow from 09:30". */
function fromWords(records: Records, told: ReseatOf['told'], today: string): string {
  const lab = records.lab.get('lab')
  const start = lab?.shifts.find(({ id }) => id === told.shiftId)?.start ?? '00:00'
  const changed = localAt(lab?.zone ?? 'UTC', Date.parse(told.at))
  const minute = changed.date === told.date ? Math.max(changed.minute, minuteOf(start)) : minuteOf(start)
  const day = told.date === today ? '' : `${sayDay(told.date, today)} `
  return `${day}from ${timeOfMinute(minute)}`
}
