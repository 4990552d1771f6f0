// The general solver that small days are put to in the end: HiGHS, compiled to WebAssembly, in a solver's thread. It is
// asked with equations of the little that is left of a day (lib/lineup/bound/equations.ts), and answers or gives up.
import loadHighs from 'highs'
import type { Settle } from '#lib/lineup'

/** So long a manager may wait for "nothing better exists"; the line-up itself is on the screen before. */
const SECONDS = 4

/** Marks are whole numbers: two line-ups differ by one at least. */
const LEAST_GAP = 0.999

/** Loads the solver; after a fault of its own it is not asked again in this thread. */
export async function loadSettle(seconds = SECONDS): Promise<Settle> {
  const highs = await loadHighs()
  let isBroken = false
  return (equations) => {
    if (isBroken) return null
    try {
      const said = highs.solve(equations, {
        ...{ time_limit: seconds, mip_rel_gap: 0, mip_abs_gap: LEAST_GAP, output_flag: false },
      })
      if (said.Status === 'Infeasible') return { best: null, isOn: () => false }
      if (said.Status !== 'Optimal') return null
      const isOn = (column: string): boolean => {
        const entry = said.Columns[column]
        return entry !== undefined && 'Primal' in entry && Number(entry.Primal) > 0.5
      }
      return { best: said.ObjectiveValue, isOn }
    } catch {
      isBroken = true
      return null
    }
  }
}
