// The general solver that small days are put to in the end: HiGHS, compiled to WebAssembly, in a solver's thread. It is
// asked with equations of the little that is left of a day (lib/lineup/bound/equations.ts), and answers or gives up.
import loadHighs from 'highs'
import type { Settle } from '#lib/lineup'

/** So long a manager may wait for "nothing better exists"; the line-up itself is on the screen before. */
const SECONDS = 4

/** Marks are whole numbers: two line-ups differ by one at least. */
const LEAST_GAP = 0.999

/**
 * A line-up as good as can be is known already and a better one is asked for, so looking for any takes time from the
 * proof; presolving again below the root takes more than it saves on equations this small.
 */
const PROVING = {
  mip_heuristic_effort: 0,
  mip_heuristic_run_rins: false,
  mip_heuristic_run_rens: false,
  mip_heuristic_run_root_reduced_cost: false,
  mip_heuristic_run_zi_round: false,
  mip_heuristic_run_shifting: false,
  mip_heuristic_run_feasibility_jump: false,
  mip_root_presolve_only: true,
}

/** Loads the solver; after a fault of its own it is not asked again in this thread. */
export async function loadSettle(seconds = SECONDS): Promise<Settle> {
  const highs = await loadHighs()
  const { optimal, infeasible } = highs.constants.modelStatus
  let isBroken = false
  return (equations) => {
    if (isBroken) return null
    try {
      return highs.withModel({ format: 'lp', data: equations }, (model) => {
        model.options.set({
          ...{ time_limit: seconds, mip_rel_gap: 0, mip_abs_gap: LEAST_GAP, output_flag: false },
          ...PROVING,
        })
        model.run()
        const status = model.getModelStatus()
        if (status === infeasible) return { best: null, isOn: () => false }
        if (status !== optimal) return null
        const on = new Set<string>()
        model.getSolution().colValue.forEach((amount, column) => {
          if (amount > 0.5) on.add(model.getColName(column))
        })
        return { best: model.getObjectiveValue(), isOn: (column: string) => on.has(column) }
      })
    } catch {
      isBroken = true
      return null
    }
  }
}
