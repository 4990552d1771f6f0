// One person's day as figures with their basis: vibration and noise from raw inputs, each with what it was computed
// from, so that the screen can show the formula with its numbers. What nobody knows stays unknown and is named.
import {
  type NoiseRule,
  noiseByTasks,
  noiseDaily,
  VIBRATION_ACTION_MS2,
  VIBRATION_LIMIT_MS2,
  vibrationDaily,
  vibrationPoints,
} from '#lib/limits'
import {
  assignmentsOn,
  exposureOf,
  loudnessIn,
  SCOPE_CLASS,
  shiftMinutes,
  shiftOf,
  techniqueOfStep,
  toolMinutes,
} from '#lib/rules'
import type { ExposureMonth, Lab, Records } from '#lib/words'

type Tool = ExposureMonth['days'][number]['tools'][number]

/** One tool's part of a day. */
type ToolPart = Tool & {
  /** Done or still planned; a day of the past is all done. */
  readonly isDone: boolean
  /** A(8) of this tool alone, m/s²; null while its figure is unknown. */
  readonly partialMs2: number | null
  readonly points: number | null
  /** Minutes of this tool that are left to the action and the limit value after the whole day; null while unknown. */
  readonly leftToActionMinutes: number | null
  readonly leftToLimitMinutes: number | null
}

export type Ledger = {
  readonly tools: readonly ToolPart[]
  readonly a8Ms2: number
  readonly points: number
  readonly noiseRule: NoiseRule
  readonly noise: ReturnType<typeof noiseDaily>
  /** Level of each tool with the room's own, and the minutes: what the noise figures are made of. */
  readonly noisePeriods: readonly { readonly name: string; readonly levelDba: number; readonly minutes: number }[]
  /** Expanded uncertainty by ISO 9612, dB; null unless every loud tool was sampled three times or more. */
  readonly noiseUncertaintyDb: number | null
  /** Names of tools that run with a hazard whose figure nobody has entered. */
  readonly unknownVibration: readonly string[]
  readonly unknownNoise: readonly string[]
  /** Names of tools whose vibration figure was declared, not measured. */
  readonly declared: readonly string[]
}

/** How a lab's noise is told: as it set it, else by its jurisdiction. */
function noiseRuleOf(lab: Readonly<Lab>): NoiseRule {
  return lab.limits.noiseRule ?? (lab.jurisdiction === 'us' ? 'osha' : 'eu')
}

/** The ledger of raw inputs; `benchMinutes` is the time in the room, for its own level outside the tools. */
export function ledgerOf(
  lab: Readonly<Lab>,
  inputs: readonly (Tool & { readonly isDone: boolean })[],
  benchMinutes = 0,
): Ledger {
  const known = inputs.filter((one) => one.minutes > 0)
  const daily = vibrationDaily(
    known.flatMap(({ vibrationMs2, minutes }) => (vibrationMs2 === null ? [] : [{ vibrationMs2, minutes }])),
  )
  const tools = known.map((tool): ToolPart => {
    const { vibrationMs2, minutes } = tool
    if (vibrationMs2 === null)
      return { ...tool, partialMs2: null, points: null, leftToActionMinutes: null, leftToLimitMinutes: null }
    const pointsPerMinute = vibrationPoints([{ vibrationMs2, minutes: 1 }])
    const left = (valueMs2: number) => {
      const to = vibrationPoints([{ vibrationMs2: valueMs2, minutes: 480 }])
      return pointsPerMinute === 0 ? null : Math.max(0, (to - daily.points) / pointsPerMinute)
    }
    const alone = vibrationDaily([{ vibrationMs2, minutes }])
    return {
      ...tool,
      partialMs2: alone.a8Ms2,
      points: alone.points,
      leftToActionMinutes: left(VIBRATION_ACTION_MS2),
      leftToLimitMinutes: left(VIBRATION_LIMIT_MS2),
    }
  })
  const noiseRule = noiseRuleOf(lab)
  const noisePeriods = periodsOf(lab, known, benchMinutes)
  const hazardous = (techniqueId: string, hazard: 'vibration' | 'noise') =>
    lab.techniques.find(({ id }) => id === techniqueId)?.hazards.includes(hazard) === true
  const names = (list: readonly Tool[]) => [...new Set(list.map(({ name }) => name))]
  return {
    tools,
    a8Ms2: daily.a8Ms2,
    points: daily.points,
    noiseRule,
    noise: noiseDaily(noiseRule, noisePeriods),
    noisePeriods,
    noiseUncertaintyDb: uncertaintyOf(lab, known),
    unknownVibration: names(
      known.filter((one) => one.vibrationMs2 === null && hazardous(one.techniqueId, 'vibration')),
    ),
    unknownNoise: names(known.filter((one) => one.noiseDba === null && hazardous(one.techniqueId, 'noise'))),
    declared: names(
      known.filter(
        (one) =>
          one.vibrationMs2 !== null &&
          lab.techniques.find(({ id }) => id === one.techniqueId)?.vibrationBasis === 'declared',
      ),
    ),
  }
}

/** Each loud tool with the level around it added by energy, and the rest of the time at the room's level alone. */
function periodsOf(lab: Readonly<Lab>, tools: readonly Tool[], benchMinutes: number): Ledger['noisePeriods'] {
  const room = lab.limits.backgroundDba
  const loud = tools.flatMap(({ name, noiseDba, minutes, backgroundDba = room }) => {
    if (noiseDba === null) return []
    return [{ name, levelDba: loudnessIn(noiseDba, backgroundDba), minutes }]
  })
  const rest = benchMinutes - loud.reduce((sum, { minutes }) => sum + minutes, 0)
  return room === undefined || rest <= 0 ? loud : [...loud, { name: '', levelDba: room, minutes: rest }]
}

const SAMPLES_MIN = 3

function uncertaintyOf(lab: Readonly<Lab>, tools: readonly Tool[]): number | null {
  const loud = tools.filter(({ noiseDba }) => noiseDba !== null)
  const tasks = loud.flatMap(({ techniqueId, minutes }) => {
    const samplesDba = lab.techniques.find(({ id }) => id === techniqueId)?.noiseSamplesDba ?? []
    return samplesDba.length < SAMPLES_MIN ? [] : [{ samplesDba, minutes }]
  })
  return loud.length === 0 || tasks.length < loud.length ? null : noiseByTasks(tasks).uncertaintyDb
}

/** A day's ledger of a person from the board: what is done as stated, what is open as planned. Null without settings. */
export function ledgerOn(records: Records, personId: string, date: string): Ledger | null {
  const lab = records.lab.get('lab')
  if (!lab) return null
  const turns = assignmentsOn(records, date).filter((turn) => turn.personId === personId)
  const bench = turns.reduce((sum, { shiftId }) => {
    const shift = shiftOf(records, shiftId)
    return sum + (shift ? shiftMinutes(shift) : 0)
  }, 0)
  const { running } = exposureOf(records, date, turns, personId)
  return ledgerOf(
    lab,
    running.map(({ technique, minutes, isDone, placeId }) => ({
      ...toolMinutes(records, technique, placeId, minutes),
      isDone,
    })),
    bench,
  )
}

/** Bench minutes at microscopes of a person's day, planned or done, and the lab's cap and break; null where none is set. */
export function scopeOn(records: Records, personId: string, date: string) {
  const limits = records.lab.get('lab')?.limits
  if (limits?.scopeMinutesMax === undefined && limits?.scopeBreakMinutes === undefined) return null
  const minutes = assignmentsOn(records, date)
    .filter((turn) => turn.personId === personId)
    .reduce((sum, { shiftId, stepId }) => {
      const technique = techniqueOfStep(records, stepId)
      const shift = shiftOf(records, shiftId)
      return technique?.needs.some((need) => need === SCOPE_CLASS) && shift ? sum + shiftMinutes(shift) : sum
    }, 0)
  return { minutes, max: limits.scopeMinutesMax ?? null, breakAfter: limits.scopeBreakMinutes ?? null }
}
