// The Floor's own sentences: the morning, the shift, what changes. Names and figures come in, one plain sentence goes
// out; tested without a screen.
import type { Headcount, TurnChange } from '#lib/views'
import { sayDate } from '../_text/dates.ts'

const small = [
  'None',
  'One',
  'Two',
  'Three',
  'Four',
  'Five',
  'Six',
  'Seven',
  'Eight',
  'Nine',
  'Ten',
  'Eleven',
  'Twelve',
  'Thirteen',
  'Fourteen',
  'Fifteen',
  'Sixteen',
  'Seventeen',
  'Eighteen',
  'Nineteen',
  'Twenty',
]

/** A count at the start of a sentence: Thirteen; figures above twenty. */
export const count = (n: number): string => small[n] ?? String(n)

/** A count within a sentence: thirteen. */
export const few = (n: number): string => (small[n] === undefined ? String(n) : small[n].toLowerCase())

/** One or many. */
export const plural = (n: number, one: string, many: string): string => (n === 1 ? one : many)

/** Ines, Wilf and Odile; beyond four names the rest is counted. */
export function names(list: readonly string[], most = 4): string {
  if (list.length === 0) return ''
  if (list.length > most) return `${list.slice(0, most - 1).join(', ')} and ${few(list.length - most + 1)} more`
  const last = list[list.length - 1] ?? ''
  return list.length === 1 ? last : `${list.slice(0, -1).join(', ')} and ${last}`
}

/** The sentence under "This morning": who is in, late and away, and whether everybody has a seat. */
export function morningSentence(
  of: Headcount,
  day: { readonly isPosted: boolean; readonly isToday: boolean; readonly isPast: boolean },
): string {
  const first = [
    `${count(of.inCount)} ${day.isToday ? 'in' : day.isPast ? 'were in' : 'expected'}`,
    ...(of.late.length > 0 ? [`${names(of.late)} late`] : []),
    ...(of.away.length > 0 ? [`${names(of.away)} away`] : []),
  ].join(', ')
  if (of.inCount + of.late.length + of.away.length === 0) return 'Nobody is expected in this shift.'
  if (!day.isPosted) return `${first}. ${day.isPast ? 'No line-up was posted.' : 'No line-up is posted yet.'}`
  const [has, have, is, are] = day.isPast ? ['had', 'had', 'was', 'were'] : ['has', 'have', 'is', 'are']
  const seats =
    of.seatless.length === 0
      ? `Everyone in ${has} a seat`
      : `${names(of.seatless)} ${plural(of.seatless.length, has, have)} no seat`
  const free =
    of.freeSeats === 0
      ? `no seat ${is} free`
      : `${few(of.freeSeats)} ${plural(of.freeSeats, `seat ${is}`, `seats ${are}`)} free`
  const held = of.held.length > 0 ? ` Held: ${names(of.held)}.` : ''
  return `${first}. ${seats}; ${free}.${held}`
}

/** The same for a guest, who is not told who comes when: "Ten people have a seat in this shift." */
export const guestSentence = (seated: number, isPast: boolean): string =>
  seated === 0
    ? 'Nobody has a seat in this shift yet.'
    : `${count(seated)} ${plural(seated, 'person', 'people')} ${isPast ? 'had' : seated === 1 ? 'has' : 'have'} a seat in this shift.`

/** The heading over a proposal's changes: "Four changes" or, for a redraw, "Two changes, eleven stay". */
export function changesHeading(changes: number, stay: number, isRedraw: boolean): string {
  const head = changes === 0 ? 'No change' : `${count(changes)} ${plural(changes, 'change', 'changes')}`
  return isRedraw || changes === 0 ? `${head}, ${few(stay)} ${plural(stay, 'stays', 'stay')}` : head
}

/** Over the first drawing of a day, when nothing is posted yet: "26 seats drawn up". */
export const firstHeading = (seats: number): string =>
  seats === 0 ? 'Nobody could be seated' : `${count(seats)} ${plural(seats, 'seat', 'seats')} drawn up`

/** What one change is, in a few words. */
export function changeWords(
  change: TurnChange,
  say: {
    readonly person: string
    readonly code: (placeId: string) => string
    readonly piece: (pieceId: string) => string
  },
): string {
  const { from, to } = change
  if (!to) return `${say.person} leaves ${from ? say.code(from.placeId) : 'the line-up'}`
  const what = say.piece(to.pieceId)
  if (change.what === 'piece') return `${say.person} stays at ${say.code(to.placeId)}, now on ${what}`
  return `${say.person} to ${say.code(to.placeId)}, on ${what}`
}

/** Where one's wish for a day part stands in the greeting heading. */
export function partHeading(shiftName: string, isToday: boolean): string {
  return isToday ? `This ${shiftName.toLowerCase()}` : shiftName
}

/** A date as short as a tag has room for: 12 Mar. */
export const tagDate = (date: string): string => sayDate(date, 'brief').slice(4)
