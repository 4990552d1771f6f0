/**
 * How the last four weeks treated people, and whose hands a piece has known in them. Both count turns that somebody
 * had, not turns that were planned and fell through.
 */
import { latelyBefore } from '#lib/rules'
import type { DayFrame } from './day-frame.ts'

/** Turns of an even history that a person's share of good pieces starts from. */
const FAIR_TURNS = 2

/** The mean appeal of what a person had, percent: 50 is fair, less means mostly dull pieces. */
export function goodShares({ records, date }: DayFrame): (personId: string) => number {
  const lately = latelyBefore(records, date)
  return (personId) => {
    const turns = lately.get(personId) ?? []
    const sum = turns.reduce((marks, { appealPct }) => marks + appealPct, 50 * FAIR_TURNS)
    return Math.round(sum / (turns.length + FAIR_TURNS))
  }
}

/** Who worked on a piece, and for how many turns. */
export function handsOf({ records, date }: DayFrame): (pieceId: string) => { person: string; turns: number }[] {
  const hands = new Map<string, Map<string, number>>()
  for (const [personId, turns] of latelyBefore(records, date)) {
    for (const { pieceId } of turns) {
      const own = hands.get(pieceId) ?? new Map<string, number>()
      hands.set(pieceId, own.set(personId, (own.get(personId) ?? 0) + 1))
    }
  }
  return (pieceId) => [...(hands.get(pieceId) ?? [])].map(([person, turns]) => ({ person, turns }))
}
