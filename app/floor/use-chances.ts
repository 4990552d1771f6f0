'use client'
// Chance of every dated piece to be ready by its first date, in tenths (`firstChances`). Counted once for a state of the
// board and shared by the plan, the margin and the dock, because a tick of attendance must not count anew; and counted
// when the page is at rest, because the count reads every step, and neither the opening of the Floor nor the paint after
// a press waits for it. Until then the former chances stand.
import { useEffect } from 'react'
import { share } from '#lib/base'
import type { SeasonAnswer } from '#lib/season'
import { type Chances, firstChances } from '#lib/views'
import type { Records } from '#lib/words'
import { Cell, useCell } from '../_board/index.ts'
import { atRest } from '../_shell/later.tsx'
import { tenthsOf } from '../_text/index.ts'
import { useLastSeason } from '../season/last-season.ts'

const read = ['step', 'due', 'outlook', 'specimen', 'jacket', 'lab', 'hours'] as const

/** What chances are counted from. */
type Asked = { readonly records: Records; readonly today: string; readonly season: SeasonAnswer | null }

let asked: Asked | null = null
let counted: Asked | null = null
const chances = new Cell<Chances>(new Map())

/** The chances as of a day. */
export function useChances(records: Records, today: string): Chances {
  const season = useLastSeason()
  useEffect(() => {
    const now = { records, today, season }
    if (today === '' || (asked !== null && isSame(asked, now))) return
    const isWaiting = asked !== counted
    asked = now
    if (!isWaiting) atRest(count)
  }, [records, today, season])
  return useCell(chances)
}

/** Counts what was asked for last. */
function count(): void {
  if (asked === null || asked === counted) return
  counted = asked
  chances.set(share(chances.get(), countChances(asked)))
}

const isSame = (a: Asked, b: Asked): boolean =>
  a.today === b.today && a.season === b.season && read.every((kind) => a.records[kind] === b.records[kind])

function countChances({ records, today, season }: Asked): Chances {
  return new Map([...firstChances(records, today, season)].map(([pieceId, chance]) => [pieceId, tenthsOf(chance)]))
}
