// What is typed at intake, and the jacket with its first step that comes of it.
import type { PieceId, RecordOf, StepId, Technique } from '#lib/words'

export type Intake = {
  readonly fieldNumber: string
  readonly container: RecordOf<'jacket'>['container']
  readonly contents: string
  readonly lengthCm: number | undefined
  readonly widthCm: number | undefined
  readonly heightCm: number | undefined
  readonly weighedKg: number | undefined
  readonly shelf: string
  readonly locality: string
  readonly horizon: string
  readonly collector: string
  readonly collectedOn: string
  readonly hazards: RecordOf<'jacket'>['hazards']
  readonly isInSeason: boolean
}

export const blankIntake: Intake = {
  fieldNumber: '',
  container: 'jacket',
  contents: '',
  lengthCm: undefined,
  widthCm: undefined,
  heightCm: undefined,
  weighedKg: undefined,
  shelf: '',
  locality: '',
  horizon: '',
  collector: '',
  collectedOn: '',
  hazards: [],
  isInSeason: true,
}

type Made = {
  readonly pieceId: PieceId
  readonly stepId: StepId
  /** The lab's technique for opening jackets; without one the jacket comes in without a step. */
  readonly opening: Readonly<Technique> | undefined
  readonly mass: { readonly lowKg: number; readonly highKg: number }
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
  const jacket: RecordOf<'jacket'> = {
    id: made.pieceId,
    fieldNumber: form.fieldNumber.trim(),
    container: form.container,
    contents: form.contents.trim(),
    state: 'sealed',
    partOf: null,
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
      lowKg: Math.round(made.mass.lowKg),
      highKg: Math.round(made.mass.highKg),
      weighedKg: form.weighedKg ?? null,
    },
    note: '',
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
