/** Air, lifting, published limits, volunteer hours. */
import { z } from 'zod'
import {
  airMixture,
  airSilica,
  airTwa,
  compositeIndex,
  EDITIONS,
  fullTimeEquivalent,
  LIFT_FILTER,
  LIFT_US,
  type Lift,
  type LiftManner,
  type LiftRefusal,
  type LiftSystem,
  liftDuration,
  liftFrequency,
  liftLimit,
  liftRefusals,
  mgM3OfPpm,
  PUBLISHED_LIMITS,
  recoveryMinutes,
  teamCapacity,
} from '#lib/limits'
import { between, type Figure, figure, label, list, minutes, positive, refuse, withinADay } from './figure.ts'

const ppm = between(0, 1_000_000, 'vapour in air, ppm')
const limitPpm = z.number().min(0.001).max(1_000_000).describe('the limit it is held against, ppm')
const ugM3 = between(0, 10_000_000, 'respirable crystalline silica, µg/m³')

/** How the lift is done, beside its measures. */
const manner = {
  angleDeg: between(0, 180, 'turn of the body, degrees'),
  perMinute: between(0, 60, 'lifts a minute'),
  durationH: positive(24, 'hours of lifting; above 8 the equation does not apply'),
  coupling: z.enum(['good', 'fair', 'poor']).describe('hold; a jacket is poor'),
  hands: z.int().min(1).max(2).optional(),
  seated: z.boolean().optional(),
  kneeling: z.boolean().optional(),
  unstable: z.boolean().optional().describe('the load may shift or tip'),
  restricted: z.boolean().optional().describe('too little room to stand and move'),
  persons: z.int().min(1).max(50).optional(),
}

/** Why the equation does not apply (NIOSH 94-110, rev. 9/2021, p. 6). */
const whyNot: Readonly<Record<LiftRefusal, string>> = {
  'one-hand': 'it is lifted with one hand',
  'over-8-h': 'lifting lasts over 8 hours',
  seated: 'the person sits',
  kneeling: 'the person kneels',
  unstable: 'the load is unstable',
  restricted: 'there is no room to move freely',
  team: 'more than one person lifts; see lift.team',
}

/** Limit and index, or the refusal; a limit of 0 is told with its multipliers, and has no index. */
function recommend(input: Lift & LiftManner, system?: LiftSystem) {
  const reasons = liftRefusals(input, input.durationH).map((reason) => whyNot[reason])
  if (reasons.length > 0) {
    return refuse(
      `The lifting equation does not apply: ${reasons.join('; ')}. Use mechanical aid, or have it assessed.`,
    )
  }
  return liftLimit(input, system)
}

const noLift =
  'The recommended weight limit is 0: nobody should lift this by hand, and there is no index. Mechanical aid.'

const rwlFormula =
  'RWL = LC·HM·VM·DM·AM·FM·CM; HM = 25/H, VM = 1 − 0.003·|V − 75|, DM = 0.82 + 4.5/D, AM = 1 − 0.0032·A, LC 23 kg; FM and CM by ' +
  'table, FM on straight lines between its rows; index = load / RWL'
const rwlStandard = 'NIOSH 94-110 (rev. 9/2021) p. 6 to 20; Waters et al. 1993, Ergonomics 36:749-776 (US)'
const multiplierNames = 'hm, vm, dm, am, fm, cm; the formula governs where a printed table differs'
const isLow = z.boolean().describe('whether the hands begin below 75 cm (30 in)')

export const careFigures: readonly Figure[] = [
  figure({
    name: 'air.twa',
    says: 'One vapour over a day against its limit; the rest of the 8 h counts as clean air.',
    formula: 'E = Σ C·T / 8 h; within when E ≤ limit',
    standard: '29 CFR 1910.1000(d)(1)(i) (US OSHA); the limit’s own jurisdiction and edition go with it',
    input: z.strictObject({ periods: withinADay(z.strictObject({ name: label, ppm, minutes })), limitPpm }),
    outputs: { twaPpm: 'ppm over 8 h', ratio: 'share of the limit', within: 'not above the limit' },
    run: (input) => airTwa(input.periods, input.limitPpm),
  }),
  figure({
    name: 'air.mixture',
    says: 'Vapours with a like effect together.',
    formula: 'E_m = Σ C / L; within when ≤ 1',
    standard: '29 CFR 1910.1000(d)(2)(i) (US OSHA)',
    input: z.strictObject({ substances: list(z.strictObject({ name: label, ppm, limitPpm })) }),
    outputs: { ratio: 'E_m', within: 'not above 1' },
    run: ({ substances }) => airMixture(substances),
  }),
  figure({
    name: 'air.silica',
    says: 'Respirable crystalline silica of a day against action level and limit.',
    formula: 'TWA = Σ C·T / 8 h; at or above the action level when TWA ≥ it; above the limit when TWA > it',
    standard: '29 CFR 1910.1053(b), (c) (US OSHA: 25 and 50 µg/m³); other jurisdictions by the limits given',
    input: z
      .strictObject({
        samples: withinADay(z.strictObject({ name: label, ugM3, minutes })),
        limitUgM3: positive(100_000, 'limit, µg/m³'),
        actionUgM3: positive(100_000, 'action level, µg/m³; leave out where there is none').optional(),
      })
      .refine((input) => (input.actionUgM3 ?? 0) <= input.limitUgM3, 'the action level is not above the limit'),
    outputs: {
      twaUgM3: 'µg/m³ over 8 h',
      atOrAboveAction: 'true, false, or null without an action level',
      aboveLimit: 'true or false',
    },
    run: ({ samples, limitUgM3, actionUgM3 = null }) => airSilica(samples, { limitUgM3, actionUgM3 }),
  }),
  figure({
    name: 'air.convert',
    says: 'Vapour by volume as weight.',
    formula: 'mg/m³ = ppm·M / 24.45',
    standard: '29 CFR 1910.1000 Table Z-1, footnotes: 25 °C, 760 torr',
    input: z.strictObject({ ppm, molarMass: positive(2000, 'g/mol') }),
    outputs: { mgM3: 'mg/m³' },
    run: (input) => ({ mgM3: mgM3OfPpm(input.ppm, input.molarMass) }),
  }),
  figure({
    name: 'lift.rwl',
    says: 'Recommended weight limit of one person’s two-handed lift, standing; refused where the equation does not apply.',
    formula: rwlFormula,
    standard: rwlStandard,
    input: z.strictObject({
      loadKg: between(0, 2000, 'kg'),
      hCm: between(0, 300, 'hands from between the ankles, cm'),
      vCm: between(0, 300, 'hands above the floor, cm'),
      dCm: between(0, 300, 'distance lifted, cm'),
      ...manner,
    }),
    outputs: { multipliers: multiplierNames, rwlKg: 'kg', index: 'load / RWL; null and refused when RWL is 0' },
    run: (input) => {
      const found = recommend({ ...input, load: input.loadKg, h: input.hCm, v: input.vCm, d: input.dCm })
      if ('refused' in found) return found
      const { multipliers, limit: rwlKg, index } = found
      return index === null ? { multipliers, rwlKg, index, ...refuse(noLift) } : { multipliers, rwlKg, index }
    },
  }),
  figure({
    name: 'lift.rwlUs',
    says: 'The same in inches and pounds, with the US constants, which are not exact conversions.',
    formula: 'as lift.rwl with HM = 10/H, VM = 1 − 0.0075·|V − 30|, DM = 0.82 + 1.8/D, LC 51 lb',
    standard: rwlStandard,
    input: z.strictObject({
      loadLb: between(0, 4400, 'lb'),
      hIn: between(0, 120, 'hands from between the ankles, in'),
      vIn: between(0, 120, 'hands above the floor, in'),
      dIn: between(0, 120, 'distance lifted, in'),
      ...manner,
    }),
    outputs: { multipliers: multiplierNames, rwlLb: 'lb', index: 'load / RWL; null and refused when RWL is 0' },
    run: (input) => {
      const found = recommend({ ...input, load: input.loadLb, h: input.hIn, v: input.vIn, d: input.dIn }, LIFT_US)
      if ('refused' in found) return found
      const { multipliers, limit: rwlLb, index } = found
      return index === null ? { multipliers, rwlLb, index, ...refuse(noLift) } : { multipliers, rwlLb, index }
    },
  }),
  figure({
    name: 'lift.composite',
    says: 'Composite index of several lifting tasks of one job.',
    formula: 'CLI = STLI₁ + Σ FILIᵢ·(1/FM₁…ᵢ − 1/FM₁…ᵢ₋₁), frequencies added up from the worst task on',
    standard: 'NIOSH 94-110 (rev. 9/2021) section 2.4.5, p. 28 (US)',
    input: z.strictObject({
      tasks: list(
        z.strictObject({
          name: label,
          perMinute: positive(60, 'lifts a minute'),
          rareIndex: between(0, 1000, 'load over the task’s limit without frequency multiplier (FILI)'),
        }),
        1,
      ),
      durationH: positive(24, 'hours of lifting; above 8 the equation does not apply'),
      isLow,
    }),
    outputs: { index: 'CLI' },
    run: ({ tasks, durationH, isLow: low }) => {
      if (durationH > 8) return refuse(`The lifting equation does not apply: ${whyNot['over-8-h']}.`)
      const index = compositeIndex(tasks, durationH, low)
      return index === null ? refuse('So many lifts a minute are beyond the method’s table: no index.') : { index }
    },
  }),
  figure({
    name: 'lift.frequency',
    says: 'Lifts a minute of work that comes in spells, over 15 minutes.',
    formula: 'F = rate·minutes / 15',
    standard: 'NIOSH 94-110 (rev. 9/2021) p. 16 (US)',
    input: z.strictObject({
      perMinute: between(0, 60, 'lifts a minute while lifting'),
      workMinutesIn15: between(0, 15, 'minutes of lifting in 15'),
    }),
    outputs: { perMinute: 'lifts a minute for the equation' },
    run: (input) => ({ perMinute: liftFrequency(input.perMinute, input.workMinutesIn15) }),
  }),
  figure({
    name: 'lift.duration',
    says: 'Duration class of a day’s lifting with light work between.',
    formula: 'short: up to 1 h, light work ≥ 1.0 × lifting; moderate: up to 2 h, ≥ 0.3 ×; long: up to 8 h',
    standard: 'NIOSH 94-110 (rev. 9/2021) p. 13, 14 (US)',
    input: z.strictObject({
      spells: list(z.strictObject({ liftMinutes: minutes, lightMinutes: minutes }), 1).refine(
        (spells) => spells.reduce((sum, one) => sum + one.liftMinutes, 0) <= 1440,
        'a day has 1440 minutes',
      ),
    }),
    outputs: {
      duration: 'short, moderate or long',
      liftMinutes: 'min of lifting that count together',
      recoveryMinutes: 'min of light work that this much lifting needs after it to stay in the class; null for long',
    },
    run: ({ spells }) => {
      const { kind, minutes: liftMinutes } = liftDuration(spells)
      if (kind === null) return refuse(`The lifting equation does not apply: ${whyNot['over-8-h']}.`)
      const recovery = kind === 'long' ? null : recoveryMinutes(kind, liftMinutes)
      return { duration: kind, liftMinutes, recoveryMinutes: recovery }
    },
  }),
  figure({
    name: 'lift.team',
    says: 'What one, two or three people may carry together; more is refused, and is a hoist’s or a trolley’s work.',
    formula: 'two: 2/3 of the sum; three: 1/2 of the sum',
    standard: 'HSE L23 (2016), guidance on team handling (UK)',
    input: z.strictObject({ capacitiesKg: z.array(positive(200, 'what each may carry alone, kg')).min(1).max(50) }),
    outputs: { capacityKg: 'kg' },
    run: ({ capacitiesKg }) => {
      const capacityKg = teamCapacity(capacitiesKg)
      return capacityKg === null
        ? refuse(
            'No share is published for more than three people; larger teams seldom lift as one. Use mechanical aid.',
          )
        : { capacityKg }
    },
  }),
  figure({
    name: 'lift.filter',
    says: 'The regulator’s first filter: above it an assessment is due; it is no limit.',
    formula: 'table, smooth lift close to the body and at arm’s length',
    standard: 'HSE L23 (2016) figure 20, INDG143 (UK; arm’s length from memory)',
    input: z.strictObject({
      zone: z.enum([
        'above-shoulder',
        'shoulder-to-elbow',
        'elbow-to-knuckle',
        'knuckle-to-mid-lower-leg',
        'below-mid-lower-leg',
      ]),
      of: z.enum(['men', 'women']).describe('as the table divides'),
    }),
    outputs: { closeKg: 'kg', farKg: 'kg' },
    run: (input) => LIFT_FILTER[input.zone][input.of],
  }),
  figure({
    name: 'limits.published',
    says: 'Published limits as data, by agent or jurisdiction.',
    formula: 'none: a table',
    standard: 'each row names its text, edition and date; isRead false: set down from memory, to be looked up',
    input: z.strictObject({
      agent: z.string().max(100).optional().describe('part of the agent’s name'),
      jurisdiction: z.enum(['eu', 'uk', 'us-osha', 'us-niosh', 'us-acgih', 'us-ca']).optional(),
    }),
    outputs: { limits: 'list of {agent, kind, value, unit, overH, jurisdiction, title, date, isRead}' },
    run: ({ agent = '', jurisdiction }) => {
      const limits = PUBLISHED_LIMITS.map(({ edition, ...limit }) => ({ ...limit, ...EDITIONS[edition] })).filter(
        (one) =>
          one.agent.toLowerCase().includes(agent.toLowerCase()) &&
          (jurisdiction === undefined || one.jurisdiction === jurisdiction),
      )
      return limits.length === 0 ? refuse('No published limit of that name is in the table.') : { limits }
    },
  }),
  figure({
    name: 'person.fte',
    says: 'Volunteer hours as posts.',
    formula: 'hours / (2080·years)',
    standard: '52 weeks of 40 h, usual US count; GSA 2007 abstract 128905',
    input: z.strictObject({ hours: between(0, 1e9, 'hours given'), years: positive(200, 'years over which') }),
    outputs: { fte: 'full-time equivalents' },
    run: (input) => ({ fte: fullTimeEquivalent(input.hours, input.years) }),
  }),
]
