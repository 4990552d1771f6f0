// The year behind today, replayed day by day: whoever was in sat down to a piece that was due, at a place that suits,
// within the rules of the room (seats, one piece at a microscope, air, a person's vibration), and wrote a log.
import { addDays, assert, daysBetween, minuteOf, weekdayOf } from '#lib/base'
import { givenOff } from '#lib/rules'
import { type Dice, type Draft, instant } from './dice.ts'
import { phrases } from './phrases.ts'
import type { PlannedStep, Project } from './plan.ts'

/** Hand-arm vibration points a day at the action value; the demo lab plans no one above it. */
const POINTS_MAX = 100
/** Days of the replay. */
const YEAR_DAYS = 364
/** Last days, in which everybody who can do something does, so that yesterday's room is as full as today's will be. */
const LAST_DAYS = 9

export interface Year {
  readonly logs: readonly Draft<'log'>[]
  /** The piece that cannot be moved, by the place it lies at. */
  readonly tiedAt: ReadonlyMap<string, string>
}

interface Lab {
  readonly lab: Draft<'lab'>
  readonly places: readonly Draft<'place'>[]
  readonly people: readonly Draft<'person'>[]
  readonly projects: readonly Project[]
}

/** What one shift of the replay has taken so far. */
interface Taken {
  readonly seats: Map<string, number>
  readonly pieceAt: Map<string, { readonly placeId: string; readonly stepId: string; people: number }>
  readonly pieceOn: Map<string, Set<string>>
  readonly lines: Map<string, number>
  readonly load: Map<string, number>
  /** What the work at a place gives off into the room, `place kind` each. */
  readonly gives: Set<string>
  airLpm: number
}

/** Replays the year before `today`. */
export function replayYear({ lab, places, people, projects }: Lab, today: string, chance: Dice): Year {
  const logs: Draft<'log'>[] = []
  const done = new Map<string, number>()
  const handOf = new Map<string, number>()
  const lastPlace = new Map<string, string>()
  const tiedAt = new Map<string, string>()
  const techniques = new Map(lab.techniques.map((technique) => [technique.id, technique]))
  const projectOf = new Map(projects.map((project) => [project.id, project]))
  const airMax = (lab.compressor.deliveryLpm * lab.compressor.dutyPct) / 100

  const isFinished = ({ step, wantMinutes, isFinal }: PlannedStep): boolean =>
    isFinal && (done.get(step.id) ?? 0) >= wantMinutes
  const openSteps = (project: Project, day: number): readonly PlannedStep[] => {
    const before = project.waitsForId === null ? undefined : projectOf.get(project.waitsForId)
    if (before?.steps[0] && !isFinished(before.steps[0])) return []
    const finished = new Set(project.steps.filter(isFinished).map(({ step }) => step.id))
    return project.steps.filter(
      (planned) =>
        (done.get(planned.step.id) ?? 0) < mostOf(planned, day) && planned.step.after.every((id) => finished.has(id)),
    )
  }
  const wanted = new Map(
    projects.map((project) => [project.id, project.steps.reduce((sum, { wantMinutes }) => sum + wantMinutes, 0)]),
  )
  const been = new Map<string, number>()
  /** Minutes a project is behind the even pace of its weeks; nothing before its first day. */
  const lagOf = (project: Project, date: string): number => {
    if (date < project.from) return 0
    const whole = Math.max(1, daysBetween(project.from, project.to))
    const share = Math.min(1, (daysBetween(project.from, date) + 1) / whole)
    return (wanted.get(project.id) ?? 0) * share - (been.get(project.id) ?? 0)
  }

  for (let day = -YEAR_DAYS; day < 0; day++) {
    const date = addDays(today, day)
    const weekday = weekdayOf(date)
    const points = new Map<string, number>()
    const isLate = day >= -LAST_DAYS
    const lagOn = (project: Project) => (isLate ? Math.max(30, lagOf(project, date)) : lagOf(project, date))
    const live = projects
      .filter((project) => project.steps.length > 0 && (isLate || lagOf(project, date) > 0))
      .map((project) => ({ project, open: openSteps(project, day), lag: lagOn(project) }))
      .filter(({ open }) => open.length > 0)
    for (const shift of lab.shifts) {
      if (!shift.weekdays.includes(weekday)) continue
      const taken: Taken = {
        seats: new Map(),
        pieceAt: new Map(),
        pieceOn: new Map(),
        lines: new Map(),
        load: new Map(),
        gives: new Set(),
        airLpm: 0,
      }
      const length = minuteOf(shift.end) - minuteOf(shift.start)
      for (const person of people) {
        const comes = person.pattern.some((half) => half.weekday === weekday && half.shiftId === shift.id)
        // Staff stand beside others and answer questions for half of their shifts, and log no bench work then.
        if (!comes || person.since > date || !chance.happens(person.role === 'volunteer' ? 86 : 50)) continue
        let best: { project: Project; planned: PlannedStep; place: Draft<'place'>; weight: number } | null = null
        const levels = new Map(person.skills.map((skill) => [skill.techniqueId, skill.level]))
        for (const { project, open, lag } of live) {
          if (lag <= 0) continue
          for (const planned of open) {
            const technique = techniques.get(planned.step.techniqueId)
            assert(technique, 'every step has a technique of the lab')
            if ((levels.get(technique.id) ?? 0) < (project.specimen?.isPriority ? 3 : 2)) continue
            const hours = (length / 60) * (technique.runningPct / 100)
            const added = 2 * (technique.vibrationMs2 ?? 0) ** 2 * hours
            if ((points.get(person.id) ?? 0) + added > POINTS_MAX) continue
            if (taken.airLpm + technique.airLpm > airMax) continue
            const mine = handOf.get(`${project.id} ${person.id}`) ?? 0
            const weight =
              lag * (1 + 2 * mine) * chance.around(1, 1.6) * (person.loves.includes(technique.id) ? 1.5 : 1)
            if (best !== null && weight <= best.weight) continue
            const place = placeFor(project, planned, technique, places, { taken, lastPlace, tiedAt }, day)
            if (place === null) continue
            best = { project, planned, place, weight }
          }
        }
        if (best === null) continue
        const { project, planned, place } = best
        const placeId = place.id
        const { step } = planned
        const technique = techniques.get(step.techniqueId)
        assert(technique, 'every step has a technique of the lab')
        const left = mostOf(planned, day) - (done.get(step.id) ?? 0)
        const minutes = Math.min(left, Math.round((length * (0.78 + 0.18 * chance.unit())) / 5) * 5)
        const running = Math.round((minutes * technique.runningPct * (0.7 + 0.3 * chance.unit())) / 100)
        take(taken, project, step, technique, place)
        points.set(person.id, (points.get(person.id) ?? 0) + 2 * (technique.vibrationMs2 ?? 0) ** 2 * (running / 60))
        done.set(step.id, (done.get(step.id) ?? 0) + minutes)
        been.set(project.id, (been.get(project.id) ?? 0) + minutes)
        const entry = live.find((other) => other.project === project)
        if (entry) Object.assign(entry, { open: openSteps(project, day), lag: lagOn(project) })
        handOf.set(`${project.id} ${person.id}`, Math.min(3, (handOf.get(`${project.id} ${person.id}`) ?? 0) + 1))
        lastPlace.set(project.id, placeId)
        if (project.isTied) tiedAt.set(placeId, project.id)
        const start = minuteOf(shift.start) + chance.between(2, 12)
        logs.push({
          id: `${date}-${shift.id}-${person.id}`,
          pieceId: project.id,
          stepId: step.id,
          personId: person.id,
          placeId,
          techniqueId: technique.id,
          date,
          shiftId: shift.id,
          startedAt: instant(lab.zone, date, start),
          finishedAt: instant(
            lab.zone,
            date,
            Math.min(minuteOf(shift.end) + 5, start + minutes + chance.between(0, 8)),
          ),
          minutes,
          runningMinutes: running,
          note: minutes >= left && planned.isFinal ? 'Step finished.' : chance.pick(phrases[technique.group]),
          corrects: null,
        })
      }
    }
  }
  return { logs, tiedAt }
}

/** Minutes up to which a step is worked on at that day. */
function mostOf({ step, wantMinutes, mayBegin }: PlannedStep, day: number): number {
  if (!mayBegin || day < -LAST_DAYS) return wantMinutes
  return Math.max(wantMinutes, Math.floor(Math.max(wantMinutes + 300, step.hours.likelyH * 30) / 5) * 5)
}

function take(
  taken: Taken,
  project: Project,
  step: Draft<'step'>,
  technique: Draft<'lab'>['techniques'][number],
  place: Draft<'place'>,
): void {
  const { airLpm } = technique
  const placeId = place.id
  taken.seats.set(placeId, (taken.seats.get(placeId) ?? 0) + 1)
  taken.airLpm += airLpm
  if (airLpm > 0) taken.lines.set(placeId, (taken.lines.get(placeId) ?? 0) + 1)
  const at = taken.pieceAt.get(project.id)
  if (at) at.people += 1
  else {
    const piece = project.specimen ?? project.jacket
    taken.pieceAt.set(project.id, { placeId, stepId: step.id, people: 1 })
    taken.load.set(placeId, (taken.load.get(placeId) ?? 0) + (piece ? massKgOf(piece) : 0))
  }
  const on = taken.pieceOn.get(placeId) ?? new Set()
  on.add(project.id)
  taken.pieceOn.set(placeId, on)
  for (const kind of givenOff(technique, place)) taken.gives.add(`${placeId} ${kind}`)
}

const massKgOf = ({ mass }: { readonly mass: Draft<'jacket'>['mass'] }): number => mass.weighedKg ?? mass.highKg

/** Where a piece is tied; null while it is not. */
const tiedIn = (project: Project, tiedAt: ReadonlyMap<string, string>): string | null =>
  [...tiedAt].find(([, id]) => id === project.id)?.[0] ?? null

/** A place where the step may be done now, the piece's last one first; null when there is none. */
function placeFor(
  project: Project,
  { step }: PlannedStep,
  technique: Draft<'lab'>['techniques'][number],
  places: readonly Draft<'place'>[],
  room: {
    readonly taken: Taken
    readonly lastPlace: ReadonlyMap<string, string>
    readonly tiedAt: ReadonlyMap<string, string>
  },
  day: number,
): Draft<'place'> | null {
  const piece = project.specimen ?? project.jacket
  assert(piece, 'a project is a jacket or a specimen')
  const { taken, lastPlace, tiedAt } = room
  const at = taken.pieceAt.get(project.id)
  if (at && (at.stepId !== step.id || at.people >= step.peopleMax)) return null
  const suits = places.filter((place) => {
    if (at && at.placeId !== place.id) return false
    const tied = tiedAt.get(place.id) ?? project.id
    if (tied !== project.id || (tiedIn(project, tiedAt) ?? place.id) !== place.id) return false
    // The microscope that is out of use today has been so for a week.
    if (place.closedUntil !== null && day >= -8) return false
    const on = taken.pieceOn.get(place.id)
    if (place.isExclusive && on && !on.has(project.id)) return false
    if ((taken.seats.get(place.id) ?? 0) >= place.seats) return false
    if (technique.airLpm > 0 && (taken.lines.get(place.id) ?? 0) >= place.airLines) return false
    if (!technique.needs.every((feature) => place.features.includes(feature))) return false
    // Days that are still looked at: dust and vapour do not meet at one place.
    const meets = (kind: string) => taken.gives.has(`${place.id} ${kind === 'dust' ? 'solvent' : 'dust'}`)
    if (day >= -LAST_DAYS && givenOff(technique, place).some(meets)) return false
    const load = taken.load.get(place.id) ?? 0
    if (!at && load + massKgOf(piece) > place.loadKgMax) return false
    return piece.lengthM <= Math.max(place.widthM, place.depthM)
  })
  const last = suits.find(({ id }) => id === lastPlace.get(project.id))
  // The plainest place that will do: a brush does not take the microscope or the bay from those who need it.
  return last ?? suits.toSorted((a, b) => a.features.length - b.features.length || a.loadKgMax - b.loadKgMax)[0] ?? null
}
