// What is typed at intake, what stands against it field by field, and the jacket with its first step that comes of it.
import { jacketMass, ROCK_DENSITY, ROCK_KG_M3 } from '#lib/limits'
import type { PieceId, RecordOf, StepId, Technique } from '#lib/words'

export type Intake = {
  readonly fieldNumber: string
  readonly container: RecordOf<'jacket'>['container']
  readonly partN: number | undefined
  readonly partTotal: number | undefined
  readonly contents: string
  readonly lengthCm: number | undefined
  readonly widthCm: number | undefined
  readonly heightCm: number | undefined
  readonly rock: string
  readonly plasterMm: number | undefined
  readonly weighedKg: number | undefined
  readonly shelf: string
  readonly standsDespite: string
  readonly locality: string
  readonly horizon: string
  readonly collector: string
  readonly collectedOn: string
  readonly faceUp: string
  readonly sketchNote: string
  readonly fieldNotes: string
  readonly hazards: RecordOf<'jacket'>['hazards']
  readonly hazardNote: string
  readonly permit: string
  readonly owner: string
  readonly isInSeason: boolean
}

export const blankIntake: Intake = {
  fieldNumber: '',
  container: 'jacket',
  partN: undefined,
  partTotal: undefined,
  contents: '',
  lengthCm: undefined,
  widthCm: undefined,
  heightCm: undefined,
  rock: '',
  plasterMm: undefined,
  weighedKg: undefined,
  shelf: '',
  standsDespite: '',
  locality: '',
  horizon: '',
  collector: '',
  collectedOn: '',
  faceUp: '',
  sketchNote: '',
  fieldNotes: '',
  hazards: [],
  hazardNote: '',
  permit: '',
  owner: '',
  isInSeason: true,
}

/** What stays from one jacket to the next: a season's jackets come in rows. */
export const sameAgain = (form: Intake): Partial<Intake> => ({
  locality: form.locality,
  horizon: form.horizon,
  collector: form.collector,
  collectedOn: form.collectedOn,
  rock: form.rock,
  shelf: form.shelf,
  permit: form.permit,
  owner: form.owner,
})

export const rocks = Object.keys(ROCK_DENSITY) as readonly (keyof typeof ROCK_DENSITY)[]

/** A plaster shell when nobody measured it: about a centimetre of plaster and burlap (common practice, no source). */
const PLASTER_MM = 10

export type MassOf = {
  readonly lowKg: number
  readonly highKg: number
  readonly shellKg: number
  /** What it was counted from. */
  readonly from: NonNullable<RecordOf<'jacket'>['mass']['from']>
}

/** The mass of what is typed, with its shell; 0 while a measure is missing. */
export function massOfIntake(form: Intake): MassOf {
  const known = rocks.find((one) => one === form.rock)
  const density = known ? ROCK_DENSITY[known] : null
  const { low, high } = density ? { low: density.lowKgM3, high: density.highKgM3 } : ROCK_KG_M3
  const plasterMm = form.container === 'jacket' ? Math.min(500, Math.max(0, form.plasterMm ?? PLASTER_MM)) : 0
  const size = {
    lengthM: (form.lengthCm ?? 0) / 100,
    widthM: (form.widthCm ?? 0) / 100,
    heightM: (form.heightCm ?? 0) / 100,
  }
  const hasSize = size.lengthM * size.widthM * size.heightM > 0
  const { lowKg, highKg, shellKg } = jacketMass(size, { low, high }, hasSize ? plasterMm : 0)
  const from = { rock: known ?? '', lowKgM3: low, highKgM3: high, plasterMm }
  return { lowKg: tenth(lowKg + shellKg), highKg: tenth(highKg + shellKg), shellKg: tenth(shellKg), from }
}

const tenth = (kg: number): number => Math.round(kg * 10) / 10

/** What stands against single fields, by field. */
export function problemsOf(
  form: Intake,
  today: string,
  isTaken: (number: string) => boolean,
): Readonly<Partial<Record<keyof Intake, string>>> {
  const number = form.fieldNumber.trim()
  const { partN, partTotal } = form
  const isCount = (value: number | undefined) =>
    value === undefined || (Number.isInteger(value) && value >= 1 && value <= 999)
  const measure = (value: number | undefined) =>
    value !== undefined && (value < 0 || value > 10_000) ? 'From 0 to 10 000 cm.' : undefined
  const all: Record<string, string | undefined> = {
    fieldNumber:
      number.length > 120 ? 'At most 120 letters.' : isTaken(number) ? `${number} is on the board already.` : undefined,
    partN: isCount(partN) ? undefined : 'A whole number from 1.',
    partTotal: !isCount(partTotal)
      ? 'A whole number from 1.'
      : (partN === undefined) !== (partTotal === undefined)
        ? 'Both numbers, or neither.'
        : partN !== undefined && partTotal !== undefined && partN > partTotal
          ? `${partN} of ${partTotal} cannot be.`
          : undefined,
    lengthCm: measure(form.lengthCm),
    widthCm: measure(form.widthCm),
    heightCm: measure(form.heightCm),
    plasterMm:
      form.plasterMm !== undefined && (form.plasterMm < 0 || form.plasterMm > 500) ? 'From 0 to 500 mm.' : undefined,
    weighedKg:
      form.weighedKg !== undefined && (form.weighedKg <= 0 || form.weighedKg > 100_000)
        ? 'More than 0, in kilograms.'
        : undefined,
    collectedOn: form.collectedOn !== '' && form.collectedOn > today ? 'That day has not come yet.' : undefined,
  }
  return Object.fromEntries(Object.entries(all).filter(([, problem]) => problem !== undefined))
}

type Made = {
  readonly pieceId: PieceId
  readonly stepId: StepId
  /** The lab's technique for opening jackets; without one the jacket comes in without a step. */
  readonly opening: Readonly<Technique> | undefined
  readonly today: string
}

/** Hours to open a jacket before anybody has looked: from a morning to a week (common practice, no source). */
const OPENING_HOURS = { lowH: 2, likelyH: 6, highH: 20 }

/** The records of a new jacket. */
export function jacketOf(
  form: Intake,
  made: Made,
): { readonly jacket: RecordOf<'jacket'>; readonly steps: RecordOf<'step'>[] } {
  const metres = (cm: number | undefined) => Math.round(cm ?? 0) / 100
  const { lowKg, highKg, from } = massOfIntake(form)
  const { partN, partTotal, weighedKg } = form
  const jacket: RecordOf<'jacket'> = {
    id: made.pieceId,
    fieldNumber: form.fieldNumber.trim(),
    container: form.container,
    contents: form.contents.trim(),
    state: 'sealed',
    partOf: partN === undefined || partTotal === undefined ? null : { n: partN, total: partTotal },
    locality: form.locality.trim(),
    horizon: form.horizon.trim(),
    collector: form.collector.trim(),
    collectedOn: form.collectedOn === '' ? null : form.collectedOn,
    rockHardness: 3,
    hazards: form.hazards,
    isInSeason: form.isInSeason,
    shelf: form.shelf.trim(),
    placeId: null,
    isTied: false,
    lengthM: metres(form.lengthCm),
    widthM: metres(form.widthCm),
    heightM: metres(form.heightCm),
    mass: {
      lowKg,
      highKg,
      weighedKg: weighedKg ?? null,
      ...(weighedKg === undefined ? {} : { weighedOn: made.today }),
      from,
    },
    note: '',
    standsDespite: form.standsDespite.trim(),
    faceUp: form.faceUp.trim(),
    sketchNote: form.sketchNote.trim(),
    fieldNotes: form.fieldNotes.trim(),
    hazardNote: form.hazardNote.trim(),
    permit: form.permit.trim(),
    owner: form.owner.trim(),
  }
  const { opening } = made
  if (!opening || form.container === 'bag') return { jacket, steps: [] }
  const step: RecordOf<'step'> = {
    id: made.stepId,
    pieceId: made.pieceId,
    techniqueId: opening.id,
    title: 'Open the jacket',
    rank: 10,
    after: [],
    hours: OPENING_HOURS,
    state: 'waiting',
    doneMinutes: 0,
    by: [],
    peopleMin: 1,
    peopleMax: 2,
  }
  return { jacket, steps: [step] }
}
