// R4: the air drawn in a shift never exceeds the compressor's delivery at its duty factor.
import { type Finding, finding, type Records } from '#lib/words'
import { type DayView, dayOf } from './day.ts'
import { labOf, type Turn } from './find.ts'

export type Air = { readonly usedLpm: number; readonly limitLpm: number; readonly freeLpm: number }

/** What the compressor can deliver all through a shift, litres a minute. */
export function airLimitLpm(records: Records): number {
  const compressor = labOf(records)?.compressor
  return compressor ? (compressor.deliveryLpm * compressor.dutyPct) / 100 : 0
}

/** Used and free air of a shift for a set of turns. */
export function airOf(records: Records, date: string, turns: readonly Turn[], shiftId: string): Air {
  const { day } = dayOf(records, date, turns)
  const usedLpm = day.turns.reduce((sum, one) => sum + (one.shift.id === shiftId ? one.technique.airLpm : 0), 0)
  const limitLpm = airLimitLpm(records)
  return { usedLpm, limitLpm, freeLpm: Math.max(0, limitLpm - usedLpm) }
}

/** The turns, in the order given, with which the air runs out. */
export function judgeAir(day: DayView): readonly Finding[] {
  const limitLpm = airLimitLpm(day.records)
  const used = new Map<string, number>()
  return day.turns.flatMap((one) => {
    if (one.technique.airLpm === 0) return []
    const before = used.get(one.shift.id) ?? 0
    const after = before + one.technique.airLpm
    used.set(one.shift.id, after)
    // The slack is for sums of decimal fractions, not for air.
    if (after <= limitLpm + 1e-6) return []
    const ids = { assignment: one.id, person: one.person.id, technique: one.technique.id, shift: one.shift.id }
    const numbers = { airLpm: one.technique.airLpm, freeLpm: Math.max(0, limitLpm - before), limitLpm }
    return [finding('R4', 'air-short', ids, numbers)]
  })
}
