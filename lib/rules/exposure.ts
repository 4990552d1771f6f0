// R5: nobody is planned above the lab's daily limits for vibration and noise. What was done today counts with the
// minutes stated at its finish, the rest with the technique's share of the shift. A figure nobody has measured or
// declared is not invented: that tool is not counted, and a caution names it. A tool is as loud as it is where it runs.
import { type NoisePeriod, noiseLevel, noiseTogether, type ToolUse, vibrationPoints } from '#lib/limits'
import { type Finding, finding, type Records, type Technique } from '#lib/words'
import { benchMinutesIn, minutesClassOf } from './bench-minutes.ts'
import { type DayView, dayOf, isAllFinished, type Placed, worksBeside } from './day.ts'
import { labOf, mayReadSafety, shiftMinutes, type Turn, techniqueOf } from './find.ts'

/** One technique's running minutes in a person's day. */
type Running = {
  readonly technique: Readonly<Technique>
  readonly minutes: number
  readonly isDone: boolean
  readonly placeId: string
}

export type Exposure = {
  readonly running: readonly Running[]
  readonly vibrationPoints: number
  /** L_EX,8h; null when no known noise. */
  readonly noiseDba: number | null
  /** Techniques with a hazard whose figure is unknown. */
  readonly unknownVibration: readonly string[]
  readonly unknownNoise: readonly string[]
}

/** The level around a place, dB(A): its own, else the lab's; undefined while nobody measured one. */
export const backgroundAt = (records: Records, placeId: string): number | undefined =>
  records.place.get(placeId)?.backgroundDba ?? labOf(records)?.limits.backgroundDba

/** The loudest level around any place that has what a technique needs, dB(A); undefined while nobody measured one. */
export function backgroundFor(records: Records, { needs }: Readonly<Technique>): number | undefined {
  let most = labOf(records)?.limits.backgroundDba
  for (const place of records.place.values()) {
    const level = backgroundAt(records, place.id)
    if (level === undefined || (most !== undefined && level <= most)) continue
    if (needs.every((need) => place.features.includes(need))) most = level
  }
  return most
}

/** A tool's level with what is around it, added by energy, dB(A). */
export const loudnessIn = (noiseDba: number, backgroundDba: number | undefined): number =>
  backgroundDba === undefined ? noiseDba : (noiseTogether([noiseDba, backgroundDba]) ?? noiseDba)

/** Minutes the tool of a turn is planned to run in the hand. */
function plannedMinutes(one: Placed): number {
  return (shiftMinutes(one.shift) * one.technique.runningPct) / 100
}

/** Minutes of a turn that count: as stated when all its work is finished, else at least as planned. */
function minutesOf(one: Placed): number {
  const stated = one.works.reduce((sum, work) => sum + work.runningMinutes, 0)
  return isAllFinished(one) ? stated : Math.max(stated, plannedMinutes(one))
}

function runningOf(day: DayView, personId: string): readonly Running[] {
  const own = day.turns.filter((one) => one.person.id === personId)
  const running = own.map((one) => ({
    technique: one.technique,
    minutes: minutesOf(one),
    isDone: isAllFinished(one),
    placeId: one.place.id as string,
  }))
  for (const work of worksBeside(day, personId)) {
    const technique = techniqueOf(day.records, work.techniqueId)
    if (technique) running.push({ technique, minutes: work.runningMinutes, isDone: true, placeId: work.placeId })
  }
  return running
}

function exposureIn(day: DayView, personId: string): Exposure {
  const running = runningOf(day, personId).filter((one) => one.minutes > 0)
  const tools: ToolUse[] = []
  const periods: NoisePeriod[] = []
  const unknownVibration = new Set<string>()
  const unknownNoise = new Set<string>()
  for (const { technique, minutes, placeId } of running) {
    if (technique.vibrationMs2 !== null) tools.push({ vibrationMs2: technique.vibrationMs2, minutes })
    else if (technique.hazards.includes('vibration')) unknownVibration.add(technique.id)
    if (technique.noiseDba !== null)
      periods.push({ levelDba: loudnessIn(technique.noiseDba, backgroundAt(day.records, placeId)), minutes })
    else if (technique.hazards.includes('noise')) unknownNoise.add(technique.id)
  }
  return {
    running,
    vibrationPoints: vibrationPoints(tools),
    noiseDba: noiseLevel(periods),
    unknownVibration: [...unknownVibration],
    unknownNoise: [...unknownNoise],
  }
}

/** A person's vibration and noise of a day, done and planned together. */
export function exposureOf(records: Records, date: string, turns: readonly Turn[], personId: string): Exposure {
  return exposureIn(dayOf(records, date, turns).day, personId)
}

/** People planned above a limit; the finding names their last turn that adds to it and is not finished. */
export function judgeExposure(day: DayView): readonly Finding[] {
  const limits = labOf(day.records)?.limits
  if (!limits) return []
  const findings: Finding[] = []
  for (const personId of new Set(day.turns.map((one) => one.person.id))) {
    const open = day.turns.filter((one) => one.person.id === personId && !isAllFinished(one))
    findings.push(...judgeMinutes(day, personId, open))
    // Hand work adds nothing, and most days are hand work.
    if (!open.some((one) => one.technique.runningPct > 0)) continue
    const { vibrationPoints: points, noiseDba } = exposureIn(day, personId)
    const last = (adds: (technique: Readonly<Technique>) => boolean) =>
      open.filter((one) => adds(one.technique) && plannedMinutes(one) > 0).at(-1)
    const shaking = last((technique) => (technique.vibrationMs2 ?? 0) > 0)
    if (shaking && points > limits.vibrationPoints + 1e-6) {
      const ids = { assignment: shaking.id, person: personId, technique: shaking.technique.id }
      findings.push(finding('R5', 'vibration-over', ids, { points, limit: limits.vibrationPoints }))
    }
    const loud = last((technique) => technique.noiseDba !== null)
    if (loud && noiseDba !== null && noiseDba > limits.noiseDba + 1e-6) {
      const ids = { assignment: loud.id, person: personId, technique: loud.technique.id }
      findings.push(finding('R5', 'noise-over', ids, { levelDba: noiseDba, limit: limits.noiseDba }))
    }
  }
  return findings
}

const personal: ReadonlySet<string> = new Set(['vibration-over', 'noise-over', 'minutes-over'])

/**
 * Findings as somebody may read them. How near others are to their limits is a health figure: for whoever may not read
 * those, only that they rest from the tool is left of it.
 */
export function toldTo(records: Records, readerId: string, findings: readonly Finding[]): readonly Finding[] {
  if (!findings.some(({ code }) => personal.has(code)) || mayReadSafety(records, readerId)) return findings
  return findings.map((one) =>
    personal.has(one.code) && one.ids.person !== readerId ? finding('R5', 'rests', one.ids) : one,
  )
}

/** Classes of techniques whose cap of bench minutes is passed; the finding names the last open turn of the class. */
function judgeMinutes(day: DayView, personId: string, open: readonly Placed[]): readonly Finding[] {
  const limits = labOf(day.records)?.limits
  // Most labs cap nothing, and this is asked at every edit.
  if (!open.some((one) => minutesClassOf(one.technique, limits))) return []
  return [...benchMinutesIn(day, personId).values()].flatMap(({ name, max, minutes }) => {
    const last = open.filter((one) => minutesClassOf(one.technique, limits)?.name === name).at(-1)
    if (!last || minutes <= max) return []
    const ids = { assignment: last.id, person: personId, technique: last.technique.id }
    return [finding('R5', 'minutes-over', ids, { minutes, limit: max })]
  })
}

/** Cautions, not refusals: techniques of the day with a hazard whose figure nobody has entered. */
export function cautionsOfDay(records: Records, date: string, turns: readonly Turn[]): readonly Finding[] {
  const { day } = dayOf(records, date, turns)
  return day.turns.flatMap((one) => {
    const { technique } = one
    const ids = { assignment: one.id, person: one.person.id, technique: technique.id }
    const cautions: Finding[] = []
    if (technique.vibrationMs2 === null && technique.hazards.includes('vibration')) {
      cautions.push(finding('R5', 'vibration-unknown', ids))
    }
    if (technique.noiseDba === null && technique.hazards.includes('noise')) {
      cautions.push(finding('R5', 'noise-unknown', ids))
    }
    return cautions
  })
}
