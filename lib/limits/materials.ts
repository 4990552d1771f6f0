// Properties of rock, solvents and resins, as data with their source; a lab's own weighing, label or data sheet always
// comes before these.
import type { GramsPerMl, KgM3, Percent } from './units.ts'

export interface RockDensity {
  readonly lowKgM3: KgM3
  readonly meanKgM3: KgM3
  readonly highKgM3: KgM3
}

const rock = (low: number, high: number, mean: number): RockDensity => ({
  lowKgM3: low * 1000,
  meanKgM3: mean * 1000,
  highKgM3: high * 1000,
})

/**
 * Bulk density, wet: Telford, Geldart & Sheriff 1990, Applied Geophysics, 2nd ed., Table 2.1, as reproduced in a
 * secondary page (attribution from memory). Weakly cemented sandstone and mudstone with fossils was measured at 1 750 to
 * 2 350 kg/m³ (San Diego State University thesis, 14 samples), well below these means.
 */
export const ROCK_DENSITY = {
  sandstone: rock(1.61, 2.76, 2.35),
  shale: rock(1.77, 3.2, 2.4),
  limestone: rock(1.93, 2.9, 2.55),
  dolomite: rock(2.28, 2.9, 2.7),
  clay: rock(1.63, 2.6, 2.21),
  gravel: rock(1.7, 2.4, 2),
  sand: rock(1.7, 2.3, 2),
  soil: rock(1.2, 2.4, 1.92),
} as const

export interface Solvent {
  readonly molarMass: number
  readonly boilingC: number
  readonly densityGMl: GramsPerMl
  readonly flashC: number
}

const solvent = (molarMass: number, boilingC: number, densityGMl: number, flashC: number): Solvent => ({
  molarMass,
  boilingC,
  densityGMl,
  flashC,
})

/** National Academies, Chemical Laboratory Safety and Security (2016), Appendix D; other tables differ by 1 °C. */
export const SOLVENTS = {
  acetone: solvent(58.079, 56.2, 0.786, -20),
  ethanol: solvent(46.07, 78.5, 0.789, 13),
  'acetic acid': solvent(60.052, 118, 1.049, 39),
  '2-butanone (MEK)': solvent(72.11, 79.6, 0.805, -9),
  '1-butanol': solvent(74.12, 117.6, 0.81, 37),
  '1,4-dioxane': solvent(88.11, 101.1, 1.033, 12),
} as const

/**
 * Glass transition of resins, °C, lowest and highest told. Paraloid B-72 after Horie, Materials for Conservation, and
 * polyvinyl acetate: from memory; Butvar (maker's range) and polyvinyl butyral: CAMEO, Museum of Fine Arts, Boston. A
 * join creeps where the store or the gallery gets near it.
 */
export const GLASS_TRANSITION_C = {
  'Paraloid B-72': [40, 40],
  'Butvar (maker range)': [62, 72],
  'polyvinyl butyral, general': [45, 63],
  'polyvinyl acetate': [28, 40],
} as const

/** Strengths that practice reports, %. `unit` as the author states it; many do not, and then it stays unknown. */
export interface UsualStrength {
  readonly use: string
  readonly material: string
  readonly solvent: string
  readonly lowPct: Percent
  readonly highPct: Percent
  readonly unit: 'w/v' | 'w/w' | 'not stated'
  readonly source: string
}

/** A starting point to write beside the lab's own recipes, never instead of them. */
export const USUAL_STRENGTHS: readonly UsualStrength[] = [
  {
    use: 'consolidating dry bone',
    material: 'Paraloid B-72',
    solvent: 'acetone (+ up to 20 % ethanol)',
    lowPct: 5,
    highPct: 10,
    unit: 'not stated',
    source: "a conservators' list message, 1995",
  },
  {
    use: 'joining porous material',
    material: 'Paraloid B-72',
    solvent: 'acetone',
    lowPct: 72,
    highPct: 72,
    unit: 'w/v',
    source: 'Koob 2018, abstract (OSG postprints 25); of finished solution or of solvent is not said',
  },
  {
    use: 'joining glass',
    material: 'Paraloid B-72',
    solvent: 'acetone',
    lowPct: 60,
    highPct: 60,
    unit: 'w/v',
    source: 'Koob 2018, abstract',
  },
  {
    use: 'label barrier coat',
    material: 'Paraloid B-72',
    solvent: 'acetone',
    lowPct: 25,
    highPct: 25,
    unit: 'w/w',
    source: 'NPS Conserve O Gram, as quoted',
  },
  {
    use: 'acid bath',
    material: 'acetic or formic acid',
    solvent: 'water',
    lowPct: 3,
    highPct: 7,
    unit: 'not stated',
    source: 'American Museum of Natural History, chemical preparation page',
  },
  {
    use: 'acid bath, historic',
    material: 'acetic acid',
    solvent: 'water',
    lowPct: 15,
    highPct: 15,
    unit: 'not stated',
    source: 'Toombs & Rixon 1959',
  },
]
