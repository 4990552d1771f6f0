// Arithmetic of resins and acids. A percentage says nothing without its convention: 72 % may be grams in 100 ml of
// finished solution or of solvent, and 50 g of resin in 100 ml of acetone is 38.9, 34.9 or 50 %. So a batch keeps its
// convention, and every function names it. Volumes are taken to add up, which for resins is an approximation; making
// up to a marked volume needs no such thing.
import type { Grams, GramsPerMl, Hours, Millilitres, Percent } from './units.ts'

/** wv: g in 100 ml of finished solution. ww: g in 100 g of solution. per100ml: g in 100 ml of solvent. */
export type Convention = 'wv' | 'ww' | 'per100ml'

/** How much is wanted; exactly one. */
export type Amount =
  | { readonly kind: 'volumeMl'; readonly volumeMl: Millilitres }
  | { readonly kind: 'solventG'; readonly solventG: Grams }
  | { readonly kind: 'solventMl'; readonly solventMl: Millilitres }

/** g/ml; null where unknown. */
export interface Densities {
  readonly resin: GramsPerMl | null
  readonly solvent: GramsPerMl | null
}

/** What to weigh and measure; null for what the densities known do not tell. */
export interface Recipe {
  readonly resinG: Grams
  readonly solventG: Grams | null
  readonly solventMl: Millilitres | null
  /** Finished solution. */
  readonly volumeMl: Millilitres | null
}

export type NoRecipe = { readonly needs: 'resin-density' | 'solvent-density' } | { readonly tooStrong: true }

/**
 * Resin for a strength: w/v g = %·V / 100 of finished solution; w/w g = %·solvent / (100 − %); per 100 ml
 * g = %·solvent / 100 (definitions). An amount given in another measure than the convention's needs a density.
 */
export function makeSolution(
  targetPct: Percent,
  convention: Convention,
  amount: Amount,
  densities: Densities,
): Recipe | NoRecipe {
  const { resin, solvent } = densities
  const resinG = resinFor(targetPct / 100, convention, amount, densities)
  if (typeof resinG !== 'number') return resinG
  if (amount.kind === 'volumeMl') {
    const solventMl = resin === null ? null : amount.volumeMl - resinG / resin
    if (solventMl !== null && solventMl <= 0) return { tooStrong: true }
    const solventG = solventMl === null || solvent === null ? null : solventMl * solvent
    return { resinG, solventG, solventMl, volumeMl: amount.volumeMl }
  }
  const { solventG, solventMl } = solventOf(amount, solvent)
  const volumeMl = solventMl === null || resin === null ? null : solventMl + resinG / resin
  return { resinG, solventG, solventMl, volumeMl }
}

function resinFor(
  strength: number,
  convention: Convention,
  amount: Amount,
  { resin, solvent }: Densities,
): Grams | NoRecipe {
  if (convention === 'ww' && strength >= 1) return { tooStrong: true }
  // Where the amount is in the convention's own measure, nothing else needs to be known.
  if (convention === 'wv' && amount.kind === 'volumeMl') return strength * amount.volumeMl
  if (convention === 'ww' && amount.kind === 'solventG') return (strength / (1 - strength)) * amount.solventG
  if (convention === 'per100ml' && amount.kind === 'solventMl') return strength * amount.solventMl

  if (resin === null && (convention === 'wv' || amount.kind === 'volumeMl')) return { needs: 'resin-density' }
  if (solvent === null && (convention === 'ww' || amount.kind === 'solventG')) return { needs: 'solvent-density' }
  const [resinDensity, solventDensity] = [resin ?? 1, solvent ?? 1]
  if (convention === 'wv' && strength >= resinDensity) return { tooStrong: true }
  const perSolventMl = {
    wv: strength / (1 - strength / resinDensity),
    ww: (strength / (1 - strength)) * solventDensity,
    per100ml: strength,
  }[convention]
  if (amount.kind === 'volumeMl') return (perSolventMl * amount.volumeMl) / (1 + perSolventMl / resinDensity)
  return perSolventMl * (amount.kind === 'solventMl' ? amount.solventMl : amount.solventG / solventDensity)
}

function solventOf(amount: Exclude<Amount, { kind: 'volumeMl' }>, density: GramsPerMl | null) {
  if (amount.kind === 'solventG') {
    return { solventG: amount.solventG, solventMl: density === null ? null : amount.solventG / density }
  }
  return { solventG: density === null ? null : amount.solventMl * density, solventMl: amount.solventMl }
}

/** C₁·V₁ = C₂·V₂ for w/v and v/v: stock and solvent (or water) for so much at the target; target at most the stock's. */
export function diluteSolution(stockPct: Percent, targetPct: Percent, volumeMl: Millilitres) {
  const stockMl: Millilitres = (targetPct * volumeMl) / stockPct
  return { stockMl, solventMl: volumeMl - stockMl }
}

/** Parts of a strong and a weak solution for one between: (target − low) : (high − target), Pearson's square. */
export function blendParts(highPct: Percent, lowPct: Percent, targetPct: Percent) {
  return { partsHigh: targetPct - lowPct, partsLow: highPct - targetPct }
}

/** One jar in all three conventions. */
export function convertSolution(resinG: Grams, solventMl: Millilitres, resin: GramsPerMl, solvent: GramsPerMl) {
  return {
    wwPct: (100 * resinG) / (resinG + solventMl * solvent),
    wvPct: (100 * resinG) / (solventMl + resinG / resin),
    per100mlG: (100 * resinG) / solventMl,
  }
}

/** g/mol: CODATA-rounded, as in the National Academies' tables. */
const MOLAR = { aceticAcid: 60.052, calciteG: 100.087, carbonDioxide: 44.01 } as const

/** The most limestone that acetic acid can dissolve, and the gas it gives: 2 CH₃COOH + CaCO₃ → Ca(CH₃COO)₂ + H₂O + CO₂. */
export function acidCapacity(aceticG: Grams): { readonly limestoneG: Grams; readonly carbonDioxideG: Grams } {
  const moles = aceticG / MOLAR.aceticAcid / 2
  return { limestoneG: moles * MOLAR.calciteG, carbonDioxideG: moles * MOLAR.carbonDioxide }
}

/** Rinse at least so many times the bath: preparators' rule, from memory (published: "much longer"). */
export function rinseHours(immersionH: Hours, times = 3): Hours {
  return immersionH * times
}

/** What was weighed and measured; null for what was not. */
export interface Weighed {
  readonly resinG: Grams | null
  readonly solventG: Grams | null
  readonly solventMl: Millilitres | null
  readonly volumeMl: Millilitres | null
}

/**
 * The strength of a solution as it was weighed, in its convention: the definitions that `makeSolution` turns round. Null
 * where what was measured and the densities known do not tell it.
 */
export function strengthAsWeighed(weighed: Weighed, convention: Convention, densities: Densities): Percent | null {
  const { resinG, volumeMl } = weighed
  const { resin, solvent } = densities
  if (resinG === null) return null
  const solventMl =
    weighed.solventMl ?? (weighed.solventG === null || solvent === null ? null : weighed.solventG / solvent)
  const solventG =
    weighed.solventG ?? (weighed.solventMl === null || solvent === null ? null : weighed.solventMl * solvent)
  switch (convention) {
    case 'wv': {
      const finishedMl = volumeMl ?? (solventMl === null || resin === null ? null : solventMl + resinG / resin)
      return finishedMl === null ? null : (100 * resinG) / finishedMl
    }
    case 'ww':
      return solventG === null ? null : (100 * resinG) / (resinG + solventG)
    case 'per100ml':
      return solventMl === null ? null : (100 * resinG) / solventMl
  }
}

/** What to take of a stock and add of solvent; null for what the densities known do not tell. */
export interface Thinning {
  readonly stockMl: Millilitres | null
  readonly stockG: Grams | null
  readonly solventMl: Millilitres | null
  readonly solventG: Grams | null
}

/**
 * Thins a stock to a weaker solution of the same convention. `wanted` is ml of finished solution for w/v (C₁·V₁ = C₂·V₂,
 * volumes taken to add up), g of finished solution for w/w (C₁·m₁ = C₂·m₂), and ml of solvent in all for g per 100 ml of
 * solvent, where the stock's part carries its own solvent with it and is weighed.
 */
export function thinSolution(
  stockPct: Percent,
  targetPct: Percent,
  convention: Convention,
  wanted: number,
  { resin, solvent }: Densities,
): Thinning {
  if (convention === 'wv') {
    const { stockMl, solventMl } = diluteSolution(stockPct, targetPct, wanted)
    return { stockMl, stockG: null, solventMl, solventG: solvent === null ? null : solventMl * solvent }
  }
  const part = (targetPct * wanted) / stockPct
  if (convention === 'ww') {
    const solventG = wanted - part
    return { stockMl: null, stockG: part, solventMl: solvent === null ? null : solventG / solvent, solventG }
  }
  // `part` is the solvent that comes with the stock, ml, and with it so much resin.
  const resinG = (stockPct * part) / 100
  const solventMl = wanted - part
  return {
    stockMl: resin === null ? null : part + resinG / resin,
    stockG: solvent === null ? null : part * solvent + resinG,
    solventMl,
    solventG: solvent === null ? null : solventMl * solvent,
  }
}
