// One person's day in figures, today or a day that is still to come: what is done and what is planned, which published values
// that comes to, and what nobody can know before it was entered or sampled. On a coming day all of it is planned.
import { noiseReached, type PublishedLimit, vibrationReached } from '#lib/limits'
import { assignmentsOn, shiftOf, techniqueOf, techniqueOfStep, worksOfTurn } from '#lib/rules'
import type { Hazard, PersonId, Records, Shift, Technique } from '#lib/words'
import { type CrewExposure, exposureOn } from './crew.ts'
import { type Ledger, ledgerOn, scopeOn } from './ledger.ts'

/** One turn of the day, as far as exposure asks. */
type PlannedTurn = {
  readonly shift: Readonly<Shift>
  readonly technique: Readonly<Technique>
  readonly placeCode: string
}

export type DayExposure = {
  readonly date: string
  /** The day's turns, earliest first. */
  readonly turns: readonly PlannedTurn[]
  readonly exposure: CrewExposure
  readonly ledger: Ledger
  readonly scope: ReturnType<typeof scopeOn>
  readonly vibrationReached: PublishedLimit | null
  readonly noiseReached: PublishedLimit | null
  /** Names of vibrating or loud tools of which nobody has entered how much of the time they run: no minutes are planned for them. */
  readonly withoutShare: readonly string[]
  /** Names of what gives off dust or vapour: known only where it is sampled. */
  readonly unsampled: readonly string[]
}

/** A person's day; null before the lab has settings. */
export function dayExposureOf(records: Records, personId: PersonId, date: string): DayExposure | null {
  const lab = records.lab.get('lab')
  const exposure = exposureOn(records, personId, date)
  const ledger = ledgerOn(records, personId, date)
  if (!lab || !exposure || !ledger) return null
  const own = assignmentsOn(records, date).filter((turn) => turn.personId === personId)
  const turns = own
    .flatMap(({ shiftId, stepId, placeId }): PlannedTurn[] => {
      const shift = shiftOf(records, shiftId)
      const technique = techniqueOfStep(records, stepId)
      return shift && technique ? [{ shift, technique, placeCode: records.place.get(placeId)?.code ?? '' }] : []
    })
    .toSorted((a, b) => (a.shift.start < b.shift.start ? -1 : 1))
  const worked = own.flatMap(({ id }) =>
    worksOfTurn(records, id).flatMap((work) => techniqueOf(records, work.techniqueId) ?? []),
  )
  const all = [...turns.map(({ technique }) => technique), ...worked]
  const named = (isMeant: (technique: Readonly<Technique>) => boolean) => [
    ...new Set(all.filter(isMeant).map(({ name }) => name)),
  ]
  const carries = ({ hazards }: Readonly<Technique>, ...some: Hazard[]) => some.some((one) => hazards.includes(one))
  return {
    date,
    turns,
    exposure,
    ledger,
    scope: scopeOn(records, personId, date),
    vibrationReached: vibrationReached(lab.jurisdiction, ledger.a8Ms2),
    noiseReached: noiseReached(lab.jurisdiction, ledger.noiseRule, ledger.noisePeriods),
    withoutShare: named((one) => one.runningPct === 0 && carries(one, 'vibration', 'noise')),
    unsampled: named((one) => carries(one, 'dust', 'solvent', 'acid')),
  }
}

/** True when a vibrating or loud tool is in the day, counted or not. */
export const hasTool = ({ exposure, withoutShare }: DayExposure): boolean =>
  exposure.donePoints + exposure.plannedPoints > 0 ||
  exposure.noiseDba !== null ||
  exposure.unknown.length + withoutShare.length > 0

export type ComingDay = DayExposure & {
  /** False where somebody claimed ahead and the line-up is not posted yet. */
  readonly isPosted: boolean
}

/** The days after today on which somebody has a turn, soonest first, as far ahead as there are any. */
export function comingDays(records: Records, personId: PersonId, today: string): readonly ComingDay[] {
  const dates = new Set<string>()
  for (const turn of records.assignment.values())
    if (turn.personId === personId && turn.date > today) dates.add(turn.date)
  return [...dates].sort().flatMap((date) => {
    const day = dayExposureOf(records, personId, date)
    return day ? [{ ...day, isPosted: records.day.has(date) }] : []
  })
}
