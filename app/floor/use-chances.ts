'use client'
// Chance of every dated piece to be ready by its first date, in tenths: the season's where one was heard, else a quick
// count. Counted once for a state of the board and shared by the plan, the margin and the dock, because a tick of
// attendance must not count anew.
import { share } from '#lib/base'
import { chancesOf, paceOf } from '#lib/forecast'
import type { SeasonAnswer } from '#lib/season'
import type { Chances } from '#lib/views'
import type { Records } from '#lib/words'
import { tenthsOf } from '../_text/index.ts'
import { useLastSeason } from '../season/last-season.ts'

const read = ['step', 'due', 'specimen', 'jacket', 'lab'] as const

const none: Chances = new Map()

let last: {
  readonly records: Records
  readonly today: string
  readonly season: SeasonAnswer | null
  readonly chances: Chances
} | null = null

/** The chances as of a day. */
export function useChances(records: Records, today: string): Chances {
  const season = useLastSeason()
  const isSame =
    last !== null &&
    last.today === today &&
    last.season === season &&
    read.every((kind) => last?.records[kind] === records[kind])
  if (last === null || !isSame)
    last = { records, today, season, chances: share(last?.chances ?? none, countChances(records, today, season)) }
  return last.chances
}

function countChances(records: Records, today: string, season: SeasonAnswer | null): Chances {
  if (records.due.size === 0 || today === '') return new Map()
  // The quick count reads every step: it is made only for what the season does not know.
  let quick: ReadonlyMap<string, number> | null = null
  const quickOf = (dueId: string): number | undefined => {
    quick ??= chancesOf(records, today, paceOf(records, today))
    return quick.get(dueId)
  }
  const first = new Map<string, { readonly date: string; readonly tenths: number }>()
  for (const due of records.due.values()) {
    const known = first.get(due.pieceId)
    if (due.state !== 'accepted' || (known && known.date <= due.date)) continue
    const counted = season?.dates.find((one) => one.dueId === due.id && one.date === due.date)
    const chance = counted?.chance ?? quickOf(due.id)
    if (chance === undefined) continue
    first.set(due.pieceId, { date: due.date, tenths: tenthsOf(chance) })
  }
  return new Map([...first].map(([pieceId, { tenths }]) => [pieceId, tenths]))
}
