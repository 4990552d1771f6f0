/**
 * Equations put to HiGHS as bytes: the text of a large day is longer than the package's own way takes, and a search
 * that the clock ended still knows what it found and what nothing exceeds.
 */
import loadHighs from 'highs'

export interface HighsAnswer {
  readonly isProven: boolean
  /** Value of the best found; null when nothing was found. */
  readonly value: number | null
  /** What no answer exceeds, as far as it was computed; null when nothing is known. */
  readonly bound: number | null
  readonly isOn: (column: string) => boolean
}

/** Maximizes within so many seconds. Throws when the engine's memory is not enough. */
export async function askHighs(lines: readonly string[], seconds: number): Promise<HighsAnswer> {
  const highs = await loadHighs()
  return highs.withModel({ format: 'lp', data: bytesOf(lines) }, (model) => {
    model.options.set({ time_limit: seconds, mip_rel_gap: 0, output_flag: false })
    model.run()
    const isProven = model.getModelStatus() === highs.constants.modelStatus.optimal
    const isFound = isProven || Number(model.info.get('primal_solution_status')) === 2
    const isMixed = Number(model.info.get('mip_node_count')) >= 0
    const told = isMixed ? Number(model.info.get('mip_dual_bound')) : Number.NaN
    const value = isFound ? model.getObjectiveValue() : null
    const on = new Set<string>()
    if (isFound) {
      model.getSolution().colValue.forEach((amount, column) => {
        if (amount > 0.5) on.add(model.getColName(column))
      })
    }
    return {
      isProven,
      value,
      bound: isProven ? value : Number.isFinite(told) ? told : null,
      isOn: (column: string) => on.has(column),
    }
  })
}

/** Lines at a time, since one string of them all can be longer than strings may be. */
const LINES = 20_000

function bytesOf(lines: readonly string[]): Uint8Array {
  const parts: Buffer[] = []
  for (let i = 0; i < lines.length; i += LINES) parts.push(Buffer.from(`${lines.slice(i, i + LINES).join('\n')}\n`))
  return Buffer.concat(parts)
}
