'use client'
// Where on the Floor one looks: which day, which shift, which place. Today and the shift of the moment until somebody
// chooses otherwise; a jump from the command field chooses through the address.
import { useSearchParams } from 'next/navigation'
import { useCallback, useMemo } from 'react'
import { addDays, minuteOf } from '#lib/base'
import { type Floor, floorOf, shiftsOn, type Turn } from '#lib/views'
import type { RecordOf, Records } from '#lib/words'
import { useBoard, useDerived, useNow } from '../_board/index.ts'
import { HOME } from '../_parts/address.ts'
import { useChances } from './use-chances.ts'

type Shift = RecordOf<'lab'>['shifts'][number]

export type FloorAt = {
  readonly records: Records
  readonly today: string
  readonly minute: number
  readonly date: string
  readonly shifts: readonly Shift[]
  /** The chosen shift; null on a day without any. */
  readonly shift: Shift | null
  readonly chosenId: string | null
  readonly isToday: boolean
  readonly isPast: boolean
  /** The manager is drawing up this day. */
  readonly isDrawing: boolean
  /** The manager is drawing up several days. */
  readonly isDrawingWeek: boolean
  readonly goTo: (date: string) => void
  readonly chooseShift: (shiftId: string) => void
  readonly choose: (placeId: string | null) => void
  readonly draw: (isDrawing: boolean) => void
  readonly drawWeek: (isDrawing: boolean) => void
}

/** The Floor's place in time and room, kept in the address so that back, reload and a sent link lead to the same. */
export function useFloorAt(): FloorAt {
  const records = useBoard((board) => board)
  const now = useNow(60_000)
  const search = useSearchParams()
  const lab = records.lab.get('lab')
  const date = search.get('day') ?? now.date
  const shifts = useMemo(() => (lab ? shiftsOn(lab, date) : []), [lab, date])
  const wanted = search.get('shift')
  const shift = shifts.find((one) => one.id === wanted) ?? shiftOfMoment(shifts, date === now.date ? now.minute : 0)
  const set = useCallback((changes: Readonly<Record<string, string | null>>) => {
    const next = new URLSearchParams(window.location.search)
    for (const [key, value] of Object.entries(changes)) {
      if (value === null) next.delete(key)
      else next.set(key, value)
    }
    const query = next.toString()
    // The address alone: choosing a place asks the server nothing, and works when it is out of reach.
    window.history.replaceState(null, '', `${HOME}${query === '' ? '' : `?${query}`}`)
  }, [])
  const today = now.date
  return {
    records,
    today,
    minute: now.minute,
    date,
    shifts,
    shift,
    chosenId: placeOfSearch(records, search, date, shift?.id),
    isToday: date === today,
    isPast: date < today,
    isDrawing: search.get('draw') === 'yes',
    isDrawingWeek: search.get('draw') === 'week',
    goTo: useCallback((day: string) => set({ day: day === today ? null : day, shift: null }), [set, today]),
    chooseShift: useCallback((shiftId: string) => set({ shift: shiftId }), [set]),
    draw: useCallback((isDrawing: boolean) => set({ draw: isDrawing ? 'yes' : null, place: null }), [set]),
    drawWeek: useCallback((isDrawing: boolean) => set({ draw: isDrawing ? 'week' : null, place: null }), [set]),
    choose: useCallback((placeId: string | null) => set({ place: placeId, person: null }), [set]),
  }
}

/** The shift that runs, else the next of the day, else the last. */
function shiftOfMoment(shifts: readonly Shift[], minute: number): Shift | null {
  return shifts.find((one) => minuteOf(one.end) > minute) ?? shifts[shifts.length - 1] ?? null
}

/** A place in the address, or the place where the person in the address sits. */
function placeOfSearch(
  records: Records,
  search: { readonly get: (name: string) => string | null },
  date: string,
  shiftId: string | undefined,
): string | null {
  const place = search.get('place')
  if (place !== null && records.place.has(place as never)) return place
  const personId = search.get('person')
  if (personId === null) return null
  const turns = [...records.assignment.values()].filter((turn) => turn.date === date && turn.personId === personId)
  return (turns.find((turn) => turn.shiftId === shiftId) ?? turns[0])?.placeId ?? null
}

/** The Floor of the chosen shift; `turns` shows a line-up that is not posted. */
export function useFloor(at: FloorAt, turns?: readonly Turn[]): Floor | null {
  const chances = useChances(at.records, at.today)
  const { records, date, shift, today, minute } = at
  return useDerived(
    records,
    (board) => (shift ? floorOf(board, { date, shiftId: shift.id, today, minute }, chances, turns) : null),
    [date, shift, today, minute, chances, turns],
  )
}

/** The next or former day on which the lab is open, at most three weeks away. */
export function openDay(records: Records, date: string, step: 1 | -1): string {
  const lab = records.lab.get('lab')
  for (let i = 1; i <= 21; i++) {
    const day = addDays(date, i * step)
    if (lab && shiftsOn(lab, day).length > 0) return day
  }
  return addDays(date, step)
}
