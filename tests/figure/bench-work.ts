/** Masses of jackets and plaster; resins, solvents and acids. */
import { z } from 'zod'
import {
  type Amount,
  acidCapacity,
  blendParts,
  convertSolution,
  diluteSolution,
  GLASS_TRANSITION_C,
  jacketMass,
  makeSolution,
  plasterDrying,
  plasterWater,
  porousDensity,
  ROCK_DENSITY,
  rinseHours,
  SOLVENTS,
  USUAL_STRENGTHS,
} from '#lib/limits'
import { between, type Figure, figure, positive, refuse } from './figure.ts'

const ml = (what: string) => positive(1_000_000, `${what}, ml`)
const grams = (what: string) => positive(1_000_000, `${what}, g`)
const gramsPerMl = (what: string) => z.number().min(0.3).max(5).describe(`${what}, g/ml`)
const kgM3 = (what: string) => z.number().min(0).max(25_000).describe(`${what}, kg/m³`)
const percent = (what: string) => positive(100, `${what}, %`)

const needs = {
  'resin-density':
    'For this the resin’s density is needed too (resinDensity, g/ml), or an amount in the convention’s measure.',
  'solvent-density':
    'For this the solvent’s density is needed too (solventDensity, g/ml), or an amount in the convention’s measure.',
} as const

/** The one amount that was given. */
function amountOf(input: {
  readonly volumeMl?: number | undefined
  readonly solventG?: number | undefined
  readonly solventMl?: number | undefined
}): Amount | null {
  const { volumeMl, solventG, solventMl } = input
  const given: (Amount | null)[] = [
    volumeMl === undefined ? null : { kind: 'volumeMl', volumeMl },
    solventG === undefined ? null : { kind: 'solventG', solventG },
    solventMl === undefined ? null : { kind: 'solventMl', solventMl },
  ]
  const found = given.filter((one) => one !== null)
  return found.length === 1 ? (found[0] ?? null) : null
}

export const benchFigures: readonly Figure[] = [
  figure({
    name: 'jacket.mass',
    says: 'What a jacket may weigh by its measures; a weighing replaces it and both are kept.',
    formula:
      'low = π/6·L·W·H·ρ (ellipsoid), high = L·W·H·ρ (box); shell = area of the ellipsoid (Thomsen, p 1.6075)·thickness·1105.3 ' +
      'kg/m³ dry plaster, on top of both',
    standard: 'geometry; plaster at consistency 70: 69 lb/ft³ dry, maker’s data',
    input: z.strictObject({
      lengthM: positive(20, 'm'),
      widthM: positive(20, 'm'),
      heightM: positive(20, 'm'),
      densityKgM3: z.number().min(100).max(25_000).describe('rock with bone, kg/m³; see rock.density'),
      plasterMm: between(0, 500, 'thickness of the plaster shell, mm').optional(),
    }),
    outputs: { lowKg: 'kg, without shell', highKg: 'kg, without shell', shellKg: 'kg, dry' },
    run: ({ densityKgM3, plasterMm = 0, ...size }) =>
      jacketMass(size, { low: densityKgM3, high: densityKgM3 }, plasterMm),
  }),
  figure({
    name: 'rock.density',
    says: 'Bulk density of rock, wet, as a range.',
    formula: 'none: a table',
    standard: 'Telford, Geldart & Sheriff 1990, Applied Geophysics, Table 2.1 (read in a secondary page)',
    input: z.strictObject({
      rock: z.enum(['sandstone', 'shale', 'limestone', 'dolomite', 'clay', 'gravel', 'sand', 'soil']),
    }),
    outputs: { lowKgM3: 'kg/m³', meanKgM3: 'kg/m³', highKgM3: 'kg/m³' },
    run: ({ rock }) => ROCK_DENSITY[rock],
  }),
  figure({
    name: 'rock.porous',
    says: 'Density of porous rock with what fills the pores.',
    formula: '(1 − φ)·grain + φ·fluid',
    standard: 'usual mixture rule; quartz 2650, calcite 2710, water 1000 kg/m³',
    input: z.strictObject({
      porosity: between(0, 1, 'share of pores, 0 to 1'),
      grainKgM3: kgM3('grains'),
      fluidKgM3: kgM3('what fills the pores; 0 for dry'),
    }),
    outputs: { densityKgM3: 'kg/m³' },
    run: (input) => ({ densityKgM3: porousDensity(input.porosity, input.grainKgM3, input.fluidKgM3) }),
  }),
  figure({
    name: 'plaster.mix',
    says: 'Water for an amount of plaster, and the shell’s mass while fresh and when dry.',
    formula: 'water = consistency/100·plaster; shell = volume·1585.8 (wet) or 1105.3 (dry) kg/m³ at consistency 70',
    standard: 'maker’s data for a pottery plaster',
    input: z.strictObject({
      plasterKg: positive(10_000, 'kg'),
      consistency: between(30, 150, 'parts of water to 100 of plaster, by weight').optional(),
      shellLitres: positive(100_000, 'volume of the set shell, l').optional(),
    }),
    outputs: {
      waterKg: 'kg',
      wetKg: 'kg, null without shellLitres',
      dryKg: 'kg',
      lossKg: 'kg of water lost on drying',
    },
    run: ({ plasterKg, consistency = 70, shellLitres }) => {
      const shell = shellLitres === undefined ? null : plasterDrying(shellLitres)
      return { waterKg: plasterWater(plasterKg, consistency), ...(shell ?? { wetKg: null, dryKg: null, lossKg: null }) }
    },
  }),
  figure({
    name: 'solution.make',
    says: 'What to weigh for a solution; the convention goes on the label.',
    formula:
      'wv: resin = %·V/100 of finished solution, make up to V; ww: resin = %·solvent/(100 − %) by weight; per100ml: resin = ' +
      '%·solvent/100; between measures by densities, volumes taken to add up',
    standard: 'definitions; 25 % w/w label recipe as quoted from the NPS Conserve O Gram',
    input: z.strictObject({
      targetPct: positive(400, 'strength in the convention, %'),
      convention: z
        .enum(['wv', 'ww', 'per100ml'])
        .describe('g in 100 ml finished, g in 100 g, or g to 100 ml of solvent'),
      volumeMl: ml('finished solution').optional(),
      solventG: grams('solvent').optional(),
      solventMl: ml('solvent').optional(),
      resinDensity: gramsPerMl('resin').optional(),
      solventDensity: gramsPerMl('solvent').optional(),
    }),
    outputs: {
      resinG: 'g',
      solventG: 'g, null where densities given do not tell',
      solventMl: 'ml, null likewise; for wv make up to volumeMl instead',
      volumeMl: 'ml of finished solution, null likewise',
    },
    run: (input) => {
      const amount = amountOf(input)
      if (amount === null) return refuse('Give exactly one of volumeMl, solventG and solventMl.')
      const densities = { resin: input.resinDensity ?? null, solvent: input.solventDensity ?? null }
      const recipe = makeSolution(input.targetPct, input.convention, amount, densities)
      if ('needs' in recipe) return refuse(needs[recipe.needs])
      if ('tooStrong' in recipe || (input.convention !== 'per100ml' && input.targetPct > 100)) {
        return refuse('There is no such solution: it would hold more resin than fits.')
      }
      return recipe
    },
  }),
  figure({
    name: 'solution.dilute',
    says: 'Stock and solvent for a weaker solution; w/v or v/v, the same in both.',
    formula: 'C₁·V₁ = C₂·V₂',
    standard: 'definition of w/v and v/v; not for w/w',
    input: z.strictObject({ stockPct: percent('stock'), targetPct: percent('wanted'), volumeMl: ml('wanted') }),
    outputs: { stockMl: 'ml', solventMl: 'ml of solvent or water' },
    run: (input) => {
      if (input.targetPct > input.stockPct) return refuse('Thinning cannot make a solution stronger than its stock.')
      return diluteSolution(input.stockPct, input.targetPct, input.volumeMl)
    },
  }),
  figure({
    name: 'solution.blend',
    says: 'Parts of a strong and a weak solution for one between.',
    formula: 'high : low = (target − low) : (high − target)',
    standard: 'Pearson’s square (alligation)',
    input: z.strictObject({
      highPct: percent('strong'),
      lowPct: between(0, 100, 'weak, %'),
      targetPct: percent('wanted'),
    }),
    outputs: { partsHigh: 'parts', partsLow: 'parts' },
    run: ({ highPct, lowPct, targetPct }) => {
      if (lowPct >= highPct || targetPct < lowPct || targetPct > highPct) {
        return refuse('The wanted strength lies between the weak and the strong one.')
      }
      return blendParts(highPct, lowPct, targetPct)
    },
  }),
  figure({
    name: 'solution.convert',
    says: 'One jar in all three conventions.',
    formula: 'ww = 100·g/(g + solvent g); wv = 100·g/(solvent ml + g/ρ); per 100 ml = 100·g/solvent ml',
    standard: 'definitions; volumes taken to add up',
    input: z.strictObject({
      resinG: grams('resin'),
      solventMl: ml('solvent'),
      resinDensity: gramsPerMl('resin'),
      solventDensity: gramsPerMl('solvent'),
    }),
    outputs: { wwPct: '% w/w', wvPct: '% w/v of finished solution', per100mlG: 'g to 100 ml of solvent' },
    run: (input) => convertSolution(input.resinG, input.solventMl, input.resinDensity, input.solventDensity),
  }),
  figure({
    name: 'solvent.data',
    says: 'Properties of a solvent.',
    formula: 'none: a table',
    standard: 'National Academies, Chemical Laboratory Safety and Security (2016), Appendix D',
    input: z.strictObject({
      solvent: z.enum(['acetone', 'ethanol', 'acetic acid', '2-butanone (MEK)', '1-butanol', '1,4-dioxane']),
    }),
    outputs: { molarMass: 'g/mol', boilingC: '°C', densityGMl: 'g/ml', flashC: '°C' },
    run: ({ solvent }) => SOLVENTS[solvent],
  }),
  figure({
    name: 'resin.data',
    says: 'Glass transition of a resin: a join creeps where store or gallery gets near it.',
    formula: 'none: a table',
    standard: 'Horie, Materials for Conservation (from memory); CAMEO, Museum of Fine Arts, Boston',
    input: z.strictObject({
      resin: z.enum(['Paraloid B-72', 'Butvar (maker range)', 'polyvinyl butyral, general', 'polyvinyl acetate']),
    }),
    outputs: { lowC: '°C', highC: '°C' },
    run: ({ resin }) => {
      const [lowC, highC] = GLASS_TRANSITION_C[resin]
      return { lowC, highC }
    },
  }),
  figure({
    name: 'solution.usual',
    says: 'Strengths that practice reports, each with its source; the unit only where its author states one.',
    formula: 'none: a table',
    standard: 'each row names its own',
    input: z.strictObject({ use: z.string().max(100).optional().describe('part of the use') }),
    outputs: { rows: 'list of {use, material, solvent, lowPct, highPct, unit, source}' },
    run: ({ use = '' }) => {
      const rows = USUAL_STRENGTHS.filter((one) => one.use.includes(use.toLowerCase()))
      return rows.length === 0 ? refuse('No strength is reported for that use.') : { rows }
    },
  }),
  figure({
    name: 'acid.capacity',
    says: 'The most limestone that acetic acid can dissolve and the gas it gives; buffered baths stop earlier.',
    formula: '2 CH₃COOH + CaCO₃ → Ca(CH₃COO)₂ + H₂O + CO₂',
    standard: 'stoichiometry; molar masses 60.052, 100.087, 44.01 g/mol',
    input: z.strictObject({ aceticG: grams('pure acetic acid') }),
    outputs: { limestoneG: 'g', carbonDioxideG: 'g' },
    run: ({ aceticG }) => acidCapacity(aceticG),
  }),
  figure({
    name: 'acid.rinse',
    says: 'How long to rinse after a bath, at the least.',
    formula: 'rinse ≥ times·immersion, times 3 unless given',
    standard: 'preparators’ rule, from memory; published only as “much longer”',
    input: z.strictObject({ immersionH: positive(10_000, 'h'), times: between(1, 100, 'times the bath').optional() }),
    outputs: { rinseH: 'h' },
    run: ({ immersionH, times }) => ({ rinseH: rinseHours(immersionH, times) }),
  }),
]
