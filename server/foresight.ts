// What the server does about forecasts by itself: keeps them as steps begin, change and end, and learns anew from what
// was kept. The model it learns lies on the board for everybody's screens and is in no log: a restart learns it again.
import { handsOf, hindsight, type Learnt, learn, pastOf, toKeep } from '#lib/forecast'
import { type Change, put, type Records } from '#lib/words'
import type { Asker } from './asks.ts'
import type { FollowUp } from './room.ts'

/** Kinds that a forecast depends on, or that say that one has come true. */
const kinds: readonly Change['kind'][] = ['step', 'specimen', 'jacket', 'lab']

/** The follow-up of one lab. `makeId` makes ids for the server's own acts. */
export function foresight(makeId: () => string): FollowUp {
  let learnt: Learnt | null = null
  let learntFrom = -1
  return {
    concerns: (changes) => changes.some(({ kind }) => kind === 'forecast' || kinds.includes(kind)),
    look(records, when) {
      const forecasts = toKeep(records, { at: when.at, on: when.date })
      const ops = forecasts.length === 0 ? [] : [{ id: makeId(), kind: 'keepForecasts', forecasts }]
      // What is to be kept now is learnt from once it is kept.
      if (records.forecast.size === learntFrom) return { ops, derived: [] }
      learntFrom = records.forecast.size
      learnt = learn(pastOf(records, when.date), learnt?.scales)
      return { ops, derived: [put('hours', { id: 'hours', ...learnt.model, byHands: byHands(records, learnt) })] }
    },
  }
}

/** Steps in work that the record may speak of: its schema's bound. */
const HANDS_MAX = 2000

function byHands(records: Records, learnt: Learnt) {
  const found = []
  for (const { id, state, techniqueId, by } of records.step.values()) {
    const hands = state === 'begun' ? handsOf(learnt, techniqueId, by) : null
    if (hands && found.length < HANDS_MAX) found.push({ stepId: id, ...hands })
  }
  return found
}

/** Answers `hindsight`: what the forecasts were worth, to managers and preparators. */
// biome-ignore lint/correctness/useYield: there is one answer, and it is the last
export const hindsightAsker: Asker = async function* (_body, { who, look }) {
  if (who.role !== 'manager' && who.role !== 'preparator') return { refused: 'not-allowed' }
  return hindsight(look().records)
}
