// The command `figure`: names, inputs and outputs as documented, and a refusal in words for whatever is wrong.
import { spawnSync } from 'node:child_process'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { root } from '../kit/server.ts'
import { answerOf, FIGURES } from './cli.ts'
import { isRefusal } from './figure.ts'

const lift = { loadKg: 15, hCm: 30, vCm: 0, dCm: 115, angleDeg: 0, perMinute: 0.1, durationH: 1, coupling: 'poor' }

/** A good input of each figure, and the outputs that it must have. */
const examples: Readonly<Record<string, readonly [input: object, outputs: readonly string[]]>> = {
  'vibration.daily': [
    { tools: [{ vibrationMs2: 5, minutes: 180 }] },
    ['a8Ms2', 'partialMs2', 'points', 'minutesToAction', 'minutesToLimit'],
  ],
  'vibration.total': [{ axMs2: 2, ayMs2: 3, azMs2: 6 }, ['vibrationMs2']],
  'vibration.years': [{ a8Ms2: 7 }, ['years']],
  'noise.daily': [
    { rule: 'osha', periods: [{ levelDba: 95, minutes: 120 }] },
    ['levelDba', 'dosePercent', 'twaDba', 'aboveCeiling'],
  ],
  'noise.reference': [{ rule: 'niosh', levelDba: 100 }, ['minutes']],
  'noise.task': [
    { tasks: [{ samplesDba: [80.1, 82.2], minutes: 300 }], instrumentDb: 0.7 },
    ['taskDba', 'contributionDba', 'levelDba', 'uncertaintyDb'],
  ],
  'noise.job': [{ samplesDba: [88, 86, 89], minutes: 450 }, ['meanDba', 'levelDba', 'u1Db']],
  'noise.together': [{ levelsDba: [80, 82] }, ['levelDba']],
  'noise.week': [{ daysDba: [80, 90] }, ['points', 'levelDba']],
  'noise.protected': [{ twaDba: 95, nrrDb: 29 }, ['protectedDba']],
  'air.twa': [{ periods: [{ ppm: 150, minutes: 120 }], limitPpm: 100 }, ['twaPpm', 'ratio', 'within']],
  'air.mixture': [{ substances: [{ ppm: 500, limitPpm: 1000 }] }, ['ratio', 'within']],
  'air.silica': [
    { samples: [{ ugM3: 90, minutes: 90 }], limitUgM3: 50, actionUgM3: 25 },
    ['twaUgM3', 'atOrAboveAction', 'aboveLimit'],
  ],
  'air.convert': [{ ppm: 1000, molarMass: 58.08 }, ['mgM3']],
  'lift.rwl': [lift, ['multipliers', 'rwlKg', 'index']],
  'lift.rwlUs': [
    { loadLb: 26, hIn: 10, vIn: 22, dIn: 37, angleDeg: 0, perMinute: 3, durationH: 1, coupling: 'fair' },
    ['multipliers', 'rwlLb', 'index'],
  ],
  'lift.composite': [{ tasks: [{ perMinute: 1, rareIndex: 1.5 }], durationH: 1, isLow: true }, ['index']],
  'lift.frequency': [{ perMinute: 10, workMinutesIn15: 8 }, ['perMinute']],
  'lift.duration': [{ spells: [{ liftMinutes: 30, lightMinutes: 10 }] }, ['duration', 'liftMinutes']],
  'lift.team': [{ capacitiesKg: [25, 25] }, ['capacityKg']],
  'lift.filter': [{ zone: 'above-shoulder', of: 'women' }, ['closeKg', 'farKg']],
  'limits.published': [{ agent: 'acetone', jurisdiction: 'uk' }, ['limits']],
  'person.fte': [{ hours: 203510, years: 1 }, ['fte']],
  'jacket.mass': [
    { lengthM: 1, widthM: 0.6, heightM: 0.4, densityKgM3: 2350, plasterMm: 15 },
    ['lowKg', 'highKg', 'shellKg'],
  ],
  'rock.density': [{ rock: 'sandstone' }, ['lowKgM3', 'meanKgM3', 'highKgM3']],
  'rock.porous': [{ porosity: 0.2, grainKgM3: 2650, fluidKgM3: 1000 }, ['densityKgM3']],
  'plaster.mix': [{ plasterKg: 5, consistency: 70, shellLitres: 10 }, ['waterKg', 'wetKg', 'dryKg', 'lossKg']],
  'solution.make': [{ targetPct: 5, convention: 'wv', volumeMl: 500 }, ['resinG']],
  'solution.dilute': [{ stockPct: 20, targetPct: 5, volumeMl: 500 }, ['stockMl', 'solventMl']],
  'solution.blend': [{ highPct: 50, lowPct: 5, targetPct: 20 }, ['partsHigh', 'partsLow']],
  'solution.convert': [
    { resinG: 50, solventMl: 100, resinDensity: 1.15, solventDensity: 0.786 },
    ['wwPct', 'wvPct', 'per100mlG'],
  ],
  'solution.usual': [{ use: 'joining' }, ['rows']],
  'solvent.data': [{ solvent: 'acetone' }, ['densityGMl', 'flashC']],
  'resin.data': [{ resin: 'Paraloid B-72' }, ['lowC', 'highC']],
  'acid.capacity': [{ aceticG: 100 }, ['limestoneG', 'carbonDioxideG']],
  'acid.rinse': [{ immersionH: 24, times: 3 }, ['rinseH']],
  'score.crpsNormal': [{ mean: 100, sd: 2, value: 96 }, ['crps']],
  'score.crpsLogNormal': [{ median: 40, logSd: 0.6, value: 60 }, ['crps']],
  'score.pinball': [{ quantile: 100, tau: 0.9, value: 96 }, ['loss']],
  'score.brier': [{ probability: 0.7, happened: true }, ['score']],
  'pert.step': [{ low: 4, likely: 6, high: 12 }, ['mean', 'sd']],
  'pert.path': [{ steps: [{ mean: 8.5, sd: 1.5 }], linkage: 0 }, ['mean', 'sd']],
  'hours.update': [
    { priorMedianH: 40, priorLogSd: 0.8, logSd: 0.6, seenH: [60, 90] },
    ['medianH', 'logSd', 'predictive'],
  ],
  'hours.spread': [{ medianH: 40, logSd: 0.6 }, ['meanH', 'modeH', 'p80H', 'p90H']],
  'estimate.uplift': [{ estimateH: 30, ratios: [1, 2], quantile: 0.8 }, ['upliftedH']],
  'learning.curve': [{ firstH: 10, rate: 0.8, n: 4 }, ['hours']],
  'earned.value': [
    { planned: 3000, earned: 2500, actual: 2800, budget: 4000 },
    ['costIndex', 'scheduleIndex', 'estimateAtEnd', 'toGo', 'variance'],
  ],
}

const answer = (name: string, input: unknown) => answerOf(name, JSON.stringify(input))

describe('figures', () => {
  test('each has an example here, and no two the same name', () => {
    expect(FIGURES.map(({ name }) => name).toSorted()).toEqual(Object.keys(examples).toSorted())
  })

  test.each(Object.entries(examples))('%s answers with its documented outputs', (name, [input, outputs]) => {
    const found = answer(name, input)
    expect(isRefusal(found), JSON.stringify(found)).toBe(false)
    expect(Object.keys(found)).toEqual(expect.arrayContaining([...outputs]))
    const documented = FIGURES.find((one) => one.name === name)?.outputs ?? {}
    expect(Object.keys(documented)).toEqual(expect.arrayContaining(Object.keys(found)))
  })

  /** A score compares with whatever came, so these may lie below nought. */
  const mayBeNegative = new Set(['mean', 'value', 'quantile'])

  test.each(Object.entries(examples))('%s refuses each number that is none, below nought or huge', (name, [input]) => {
    for (const path of numberPaths(input)) {
      const key = path.at(-1)
      const isScore = name.startsWith('score.') && typeof key === 'string' && mayBeNegative.has(key)
      // NaN and infinity have no JSON; programs that print them all the same print null, or a word.
      const bad = [null, 'NaN', '5', [], {}, true, 1e300, ...(isScore ? [-1e300] : [-1, -1e-9])]
      for (const value of bad) {
        const got = answer(name, replaced(input, path, value))
        expect(isRefusal(got), `${path.join('.')} = ${JSON.stringify(value)}: ${JSON.stringify(got)}`).toBe(true)
      }
    }
  })

  test('a unit that the figure does not know is refused by its name, not passed over', () => {
    const got = answer('vibration.daily', { tools: [{ vibrationMs2: 5, minutes: 5, hours: 3 }] })
    expect(got).toEqual({ refused: expect.stringContaining('hours') })
    expect(answer('lift.rwl', { ...lift, carrying: true })).toEqual({ refused: expect.stringContaining('carrying') })
  })

  test('a day of more than 24 hours is refused', () => {
    const tools = [1, 2].map(() => ({ vibrationMs2: 1, minutes: 721 }))
    expect(answer('vibration.daily', { tools })).toEqual({ refused: 'tools: a day has 1440 minutes' })
    expect(isRefusal(answer('vibration.daily', { tools: tools.slice(1) }))).toBe(false)
  })

  test('wrong JSON, an unknown name and a prototype’s name are refused in words', () => {
    for (const [name, text] of [
      ['air.mixture', '{"substances":['],
      ['air.mixtures', '{}'],
      ['toString', '{}'],
      ['air.mixture', '{"__proto__":{"substances":[]}}'],
      ['air.mixture', 'NaN'],
    ] as const) {
      expect(answerOf(name, text), `${name} ${text}`).toEqual({ refused: expect.stringMatching(/\w{3}/) })
    }
  })

  test('any JSON at all is answered by a refusal or by finite numbers', () => {
    const shapes = Object.values(examples).map(([input]) => input)
    const keys = [
      ...new Set(shapes.flatMap((shape) => numberPaths(shape).flat()).filter((key) => typeof key === 'string')),
    ]
    const number = fc.oneof(fc.double(), fc.integer(), fc.constantFrom(0, -0, 5e-324, 1.7e308, 1e-300, 0.1))
    const json = fc.letrec((tie) => ({
      value: fc.oneof({ depthSize: 'small' }, number, fc.jsonValue({ maxDepth: 1 }), tie('list'), tie('record')),
      list: fc.array(tie('value'), { maxLength: 3 }),
      record: fc.dictionary(fc.constantFrom(...keys), tie('value'), { maxKeys: 6 }),
    })).value
    const name = fc.constantFrom(...FIGURES.map((one) => one.name))
    fc.assert(
      fc.property(name, json, (one, value) => {
        expectHonest(answer(one, value))
      }),
      { numRuns: 1000 },
    )
    // And numbers of the right place but any size.
    fc.assert(
      fc.property(
        fc.constantFrom(...Object.entries(examples)),
        fc.infiniteStream(number),
        ([one, [input]], numbers) => {
          let mixed: unknown = input
          for (const path of numberPaths(input)) mixed = replaced(mixed, path, numbers.next().value)
          expectHonest(answer(one, mixed))
        },
      ),
      { numRuns: 1000 },
    )
  })
})

describe('lifting', () => {
  test('is always refused where the equation does not apply, whatever the lift', () => {
    const number = (most: number) => fc.double({ min: 0, max: most, noNaN: true })
    const anyLift = fc.record({
      loadKg: number(200),
      hCm: number(90),
      vCm: number(200),
      dCm: number(200),
      angleDeg: number(180),
      perMinute: number(20),
      durationH: fc.double({ min: 0.1, max: 8, noNaN: true }),
      coupling: fc.constantFrom('good', 'fair', 'poor'),
    })
    const outside = fc.constantFrom(
      { hands: 1 },
      { durationH: 8.0001 },
      { seated: true },
      { kneeling: true },
      { unstable: true },
      { restricted: true },
      { persons: 2 },
    )
    fc.assert(
      fc.property(anyLift, outside, (one, manner) => {
        const got = answer('lift.rwl', { ...one, ...manner })
        expect(got).toEqual({ refused: expect.stringContaining('does not apply') })
      }),
    )
  })

  test('beyond reach tells the limit of 0 and refuses the index', () => {
    for (const part of [{ hCm: 64 }, { vCm: 176 }, { dCm: 176 }, { angleDeg: 136 }, { perMinute: 16 }]) {
      const got = answer('lift.rwl', { ...lift, ...part })
      expect(got).toMatchObject({ rwlKg: 0, index: null, refused: expect.stringContaining('by hand') })
    }
  })
})

describe('the command', () => {
  const command = (...args: string[]) => {
    const { stdout, status } = spawnSync(process.execPath, ['tests/run.mjs', 'figure', ...args], {
      cwd: root,
      encoding: 'utf8',
    })
    return { status, stdout, last: JSON.parse(stdout.trim().split('\n').at(-1) ?? '') }
  }

  test('prints one line of JSON and ends with 0', () => {
    const { status, stdout, last } = command('noise.daily', '{"rule":"osha","periods":[{"levelDba":90,"minutes":480}]}')
    expect([status, stdout.trim().split('\n').length]).toEqual([0, 1])
    expect(last).toMatchObject({ levelDba: 90, dosePercent: 100, twaDba: 90, aboveCeiling: false })
  })

  test('refuses in words and ends with 1', () => {
    const { status, last } = command('lift.rwl', JSON.stringify({ ...lift, hands: 1 }))
    expect([status, last.refused]).toEqual([1, expect.stringContaining('one hand')])
    expect(command('lift.rwl').status).toBe(1)
  })

  test('documents every figure with formula, standard and units', () => {
    const { status, stdout, last } = command('--list')
    expect(status).toBe(0)
    expect(last.figures.map((one: { name: string }) => one.name)).toEqual(FIGURES.map(({ name }) => name))
    for (const { name, formula, standard } of FIGURES) {
      expect(stdout).toContain(`${name}\n`)
      expect(Math.min(formula.length, standard.length)).toBeGreaterThan(5)
    }
    expect(stdout).toContain('tools[].vibrationMs2: 0 to 100')
  })
})

function expectHonest(got: object): void {
  if (isRefusal(got)) expect(got.refused.length).toBeGreaterThan(3)
  else expect(numberPaths(got).every((path) => Number.isFinite(valueAt(got, path)))).toBe(true)
}

type Path = readonly (string | number)[]

/** Where the numbers of a value are. */
function numberPaths(value: unknown, path: Path = []): Path[] {
  if (typeof value === 'number') return [path]
  if (typeof value !== 'object' || value === null) return []
  const isList = Array.isArray(value)
  return Object.entries(value).flatMap(([key, item]) => numberPaths(item, [...path, isList ? Number(key) : key]))
}

function valueAt(value: unknown, path: Path): unknown {
  return path.reduce<unknown>((held, key) => (held as Readonly<Record<string | number, unknown>>)[key], value)
}

/** A copy with another value at one place. */
function replaced(value: unknown, [key, ...rest]: Path, by: unknown): unknown {
  if (key === undefined) return by
  const copy: Record<string | number, unknown> = Array.isArray(value)
    ? ([...value] as unknown as Record<number, unknown>)
    : { ...(value as object) }
  copy[key] = replaced(copy[key], rest, by)
  return copy
}
