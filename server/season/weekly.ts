// Once a week the server notes what the chances of the lab's dates are, so that people see how they drift. It looks
// every hour, so that a machine that sleeps at night does it in the morning; the op's id is the week's, so a restart, or
// another server on the same lab, does not note it twice.
import { addDays, weekdayOf } from '#lib/base'
import type { Op } from '#lib/ops'
import type { SeasonAnswer } from '#lib/season'
import type { Records } from '#lib/words'
import type { Clock } from '../world.ts'
import type { Seasons } from './seasons.ts'

/** What of a room this needs. */
interface Behind {
  readonly seq: number
  readonly records: Records
  readonly copyRecords: () => Records
  readonly when: () => { readonly date: string; readonly minute: number }
}

const LOOK_MS = 3_600_000
/** After a start everybody opens their screens; the note can wait. */
const FIRST_LOOK_MS = 60_000

/** The Monday of a date's week. */
const mondayOf = (date: string): string => addDays(date, 1 - weekdayOf(date))

/** Begins to look; gives the function that ends it. */
export function noteWeekly(
  room: Behind,
  { clock, seasons }: { readonly clock: Clock; readonly seasons: Seasons },
  submit: (op: { readonly id: string } & Record<string, unknown>) => void,
): () => void {
  let isOver = false
  let stopAsking = () => {}
  let cancel = clock.after(FIRST_LOOK_MS, look)
  function look(): void {
    if (isOver) return
    cancel = clock.after(LOOK_MS, look)
    const when = room.when()
    const monday = mondayOf(when.date)
    const live = [...room.records.due.values()].filter(({ state }) => state === 'accepted')
    if (live.length === 0 || [...room.records.outlook.values()].some(({ on }) => on >= monday)) return
    stopAsking = seasons.start(room.copyRecords(), { what: 'season' }, { seq: room.seq, ...when }, (answer, isLast) => {
      if (!isLast || isOver || !('kind' in answer) || answer.kind !== 'season' || !answer.isWhole) return
      submit(noteOf(answer, monday, when.date))
    })
  }
  return () => {
    isOver = true
    cancel()
    stopAsking()
  }
}

function noteOf(answer: SeasonAnswer, monday: string, on: string) {
  const outlooks = answer.dates
    .filter(({ isAsked }) => !isAsked)
    .map(({ dueId, date, chance, window }) => ({ dueId, date, chance, median: window.p50 }))
  return { id: `note-outlooks-${monday}`, kind: 'noteOutlooks' satisfies Op['kind'], on, outlooks }
}
