// Makes a failed history smaller: acts are left out, halves first and single ones last, as long as what is left still
// fails in the same way.
import { whats } from './check.ts'
import { planOf } from './plan.ts'
import { type Played, play } from './play.ts'

/** What of a history is wrong: names of the counts that are not 0. */
export function wrongIn(played: Played): readonly string[] {
  return whats.filter((what) => played[what].length > 0)
}

/** The numbers of the acts that are enough to fail. Takes the acts' count squared in histories at most. */
export async function shrink(seed: number, wrong: readonly string[]): Promise<readonly number[]> {
  const fails = async (acts: readonly number[]) => {
    try {
      return wrongIn(await play(seed, acts)).some((what) => wrong.includes(what))
    } catch {
      return false
    }
  }
  let acts = planOf(seed).map((_, index) => index)
  for (let size = Math.ceil(acts.length / 2); size >= 1; size = size === 1 ? 0 : Math.ceil(size / 2)) {
    for (let from = 0; from < acts.length; ) {
      const fewer = [...acts.slice(0, from), ...acts.slice(from + size)]
      if (await fails(fewer)) acts = fewer
      else from += size
    }
  }
  return acts
}
