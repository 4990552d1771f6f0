// What the Wall says beside the plan: who is awaited, what is free, which date comes next, and what is worked with
// that those who walk in must know of. First names and places only.
import { minuteOf } from '#lib/base'
import { clocksRunning, pieceOf } from '#lib/rules'
import type { Hazard, Process, RecordOf, Records, Shift } from '#lib/words'
import { airOf } from './floor-air.ts'
import { type Floor, type PieceTag, pieceTag } from './floor-day.ts'
import { headcountOf } from './floor-wants.ts'

export type WallFacts = {
  readonly late: readonly { readonly name: string; readonly dueAt: string | null }[]
  readonly freeSeats: number
  readonly air: { readonly freeLpm: number; readonly totalLpm: number }
  /** The next accepted date from today on. */
  readonly next: { readonly piece: PieceTag; readonly date: string } | null
  /** What runs by itself and ends today, the soonest first. */
  readonly ends: readonly { readonly time: string; readonly number: string; readonly what: Process }[]
  /** Hazards of the work planned in this shift, with the codes of the places where it is done. */
  readonly care: readonly { readonly hazard: Hazard; readonly places: readonly string[] }[]
}

/** Hazards that concern people who walk past, most audible first. */
const told: readonly Hazard[] = ['noise', 'dust', 'solvent', 'acid']

/** The facts of a shift. */
export function wallFactsOf(records: Records, floor: Floor): WallFacts {
  const lab = records.lab.get('lab')
  const air = airOf(records, floor)
  const care = new Map<Hazard, string[]>()
  for (const { place, sitters } of floor.places) {
    for (const { techniqueId, look } of sitters) {
      if (look === 'away') continue
      for (const hazard of lab?.techniques.find((one) => one.id === techniqueId)?.hazards ?? []) {
        const codes = care.get(hazard) ?? []
        if (!codes.includes(place.code)) care.set(hazard, [...codes, place.code])
      }
    }
  }
  return {
    late: [...floor.presence.values()].filter((one) => one.state === 'late'),
    freeSeats: headcountOf(floor).freeSeats,
    air: { freeLpm: air.freeLpm, totalLpm: air.totalLpm },
    ends: clocksRunning(records).flatMap(({ ends, pieceId, what }) => {
      const piece = ends.date === floor.date ? pieceOf(records, pieceId) : undefined
      return piece ? [{ time: ends.time, number: 'number' in piece ? piece.number : piece.fieldNumber, what }] : []
    }),
    next: nextDate(records, floor.date),
    care: told.flatMap((hazard) => {
      const places = care.get(hazard)
      return places ? [{ hazard, places }] : []
    }),
  }
}

function nextDate(records: Records, today: string): WallFacts['next'] {
  let first: RecordOf<'due'> | null = null
  for (const due of records.due.values()) {
    if (due.state === 'accepted' && due.date >= today && (first === null || due.date < first.date)) first = due
  }
  const piece = first && pieceTag(records, first.pieceId, today, new Map())
  return first && piece ? { piece, date: first.date } : null
}

/**
 * The shift the Wall shows and when it turns: the one that runs, or from 30 minutes before its start the next one;
 * between shifts the one that comes; after the last, the last.
 */
export function wallShiftOf(shifts: readonly Readonly<Shift>[], minute: number): Readonly<Shift> | null {
  const running = shifts.findLast((shift) => minute >= minuteOf(shift.start) - 30 && minute < minuteOf(shift.end))
  return running ?? shifts.find((shift) => minute < minuteOf(shift.start)) ?? shifts.at(-1) ?? null
}
