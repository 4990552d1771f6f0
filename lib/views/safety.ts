// What one asker may read of the safety home: what is about themselves, and for managers and whoever looks after safety
// all of it. The server answers with this and nothing else, since the home is opened for nobody.
import { mayReadSafety } from '#lib/rules'
import type { PersonId, RecordOf, Records } from '#lib/words'

export type SafetyAnswer = {
  readonly samples: readonly RecordOf<'airSample'>[]
  readonly months: readonly RecordOf<'exposureMonth'>[]
  readonly incidents: readonly RecordOf<'incident'>[]
  readonly checks: readonly RecordOf<'checkDone'>[]
  /** Work of the board's days with the minutes in the hand, which the board itself is without. */
  readonly works: readonly RecordOf<'work'>[]
}

/**
 * The safety home as `asker` may read it, about one person or (null) all that they may read. Incidents are their author's,
 * and read by those who look after safety; whom one is about does not read it by that alone.
 */
export function safetyFor(records: Records, asker: string, about: PersonId | null): SafetyAnswer {
  const isWhole = mayReadSafety(records, asker)
  const mayRead = (personId: string) => (isWhole || personId === asker) && (about === null || personId === about)
  const newest = <T extends { readonly date: string; readonly at: string }>(list: Iterable<T>) =>
    [...list].sort((a, b) => (a.date === b.date ? (a.at < b.at ? 1 : -1) : a.date < b.date ? 1 : -1))
  return {
    samples: newest(records.airSample.values()).filter((one) => mayRead(one.personId)),
    months: [...records.exposureMonth.values()]
      .filter((one) => mayRead(one.personId))
      .sort((a, b) => (a.month < b.month ? 1 : -1)),
    incidents: newest(records.incident.values()).filter(
      (one) => (isWhole || one.by === asker) && (about === null || one.personId === about || one.by === about),
    ),
    checks: newest(records.checkDone.values()).filter((one) => isWhole || one.by === asker),
    works: [...records.work.values()].filter((one) => one.state === 'finished' && mayRead(one.personId)),
  }
}

/** The board with the minutes in the hand laid over it, as far as its reader was told them. */
export function withHandMinutes(records: Records, works: SafetyAnswer['works']): Records {
  if (works.length === 0) return records
  const work = new Map(records.work)
  for (const { id, runningMinutes } of works) {
    const one = work.get(id)
    // What was just finished here stands in the draft with its minutes, before the server has told them.
    if (one?.state === 'finished') work.set(id, { ...one, runningMinutes: one.runningMinutes || runningMinutes })
  }
  return { ...records, work }
}
