// The crew on a day: who is there in each shift, where they sit, how the week looks, and one person's exposure split
// into what is done and what is planned. Figures of one person are for that person and the manager; who may see them
// is the screen's to keep to.
import { addDays, weekdayOf } from '#lib/base'
import { vibrationPoints } from '#lib/limits'
import { assignmentsOn, comesUsually, exposureOf, isOfCrew, levelOf, newestFirst, presenceOf } from '#lib/rules'
import type { PersonId, RecordOf, Records, ShiftId, Technique } from '#lib/words'
import { crewOf, type Presence, shiftsOn } from './floor-presence.ts'

type Person = RecordOf<'person'>
type Shift = RecordOf<'lab'>['shifts'][number]

/** A person in the list of one shift. */
export type CrewRow = {
  readonly person: Person
  /** Null when nobody expects them in this shift. */
  readonly presence: Presence | null
  /** Codes of the places they sit at in this shift. */
  readonly placeCode: string
  readonly isLearning: boolean
}

const roleOrder: readonly Person['role'][] = ['manager', 'preparator', 'volunteer', 'researcher']

/** Everybody who works here: first those of the shift, then the others; staff before volunteers, by name. */
export function crewRows(records: Records, date: string, shiftId: ShiftId | null): readonly CrewRow[] {
  const crew = shiftId === null ? new Map<PersonId, Presence>() : crewOf(records, date, shiftId)
  const rows: CrewRow[] = []
  for (const person of records.person.values()) {
    if (!isOfCrew(person)) continue
    const turn = shiftId === null ? undefined : records.assignment.get(`${date}.${shiftId}.${person.id}`)
    const step = turn && records.step.get(turn.stepId)
    rows.push({
      person,
      presence: crew.get(person.id) ?? null,
      placeCode: (turn && records.place.get(turn.placeId)?.code) ?? '',
      isLearning: step !== undefined && levelOf(person, step.techniqueId, date) === 1,
    })
  }
  return rows.toSorted(
    (a, b) =>
      Number(b.presence !== null) - Number(a.presence !== null) ||
      roleOrder.indexOf(a.person.role) - roleOrder.indexOf(b.person.role) ||
      (a.person.name < b.person.name ? -1 : 1),
  )
}

/** The lab's techniques as columns: the ladder, gentlest first, then those apart from it. */
export function techniqueColumns(lab: RecordOf<'lab'> | undefined): {
  readonly ladder: readonly Readonly<Technique>[]
  readonly apart: readonly Readonly<Technique>[]
} {
  const all = lab?.techniques ?? []
  return {
    ladder: all.filter((one) => one.force !== null).toSorted((a, b) => (a.force ?? 0) - (b.force ?? 0)),
    apart: all.filter((one) => one.force === null),
  }
}

/** A skill as it counts on a date. */
export type SkillView = {
  readonly technique: Readonly<Technique>
  /** What counts today: 0 once it has run out. */
  readonly level: 0 | 1 | 2 | 3 | 4
  readonly skill: Person['skills'][number] | null
  readonly isOut: boolean
  /** Runs out within six weeks. */
  readonly isSoonOut: boolean
  readonly ask: RecordOf<'signOffAsk'> | null
}

const SOON_DAYS = 42

/** One person's level in each of some techniques. */
export function skillsOf(
  records: Records,
  person: Person,
  techniques: readonly Readonly<Technique>[],
  date: string,
): readonly SkillView[] {
  return techniques.map((technique) => {
    const skill = person.skills.find((one) => one.techniqueId === technique.id) ?? null
    const runsOut = skill?.expiresOn ?? null
    return {
      technique,
      // The words' own levels are 0 to 4.
      level: levelOf(person, technique.id, date) as SkillView['level'],
      skill,
      isOut: runsOut !== null && runsOut < date,
      isSoonOut: runsOut !== null && runsOut >= date && runsOut <= addDays(date, SOON_DAYS),
      ask: records.signOffAsk.get(`${person.id}.${technique.id}`) ?? null,
    }
  })
}

/** One shift of one day in somebody's week. */
export type WeekCell = 'in' | 'extra' | 'away' | 'free'

export type WeekDay = {
  readonly date: string
  readonly isToday: boolean
  readonly shifts: readonly { readonly shift: Readonly<Shift>; readonly cell: WeekCell }[]
}

/** Monday to Sunday of the week a date lies in; days on which the lab holds no shift have none. */
export function weekOf(records: Records, person: Person, date: string): readonly WeekDay[] {
  const lab = records.lab.get('lab')
  const monday = addDays(date, 1 - weekdayOf(date))
  return Array.from({ length: 7 }, (_, index) => {
    const day = addDays(monday, index)
    return {
      date: day,
      isToday: day === date,
      shifts: (lab ? shiftsOn(lab, day) : []).map((shift) => ({ shift, cell: cellOf(records, person, day, shift.id) })),
    }
  })
}

function cellOf(records: Records, person: Person, date: string, shiftId: ShiftId): WeekCell {
  const presence = presenceOf(records, person, date, shiftId)
  const isUsual = presence.basis === 'spell' ? presence.isIn || presence.isAway : comesUsually(person, date, shiftId)
  if (presence.isIn) return isUsual ? 'in' : 'extra'
  return presence.isAway && isUsual ? 'away' : 'free'
}

/** Exceptions from a date on, soonest first. */
export const exceptionsFrom = (person: Person, date: string): readonly Person['exceptions'][number][] =>
  person.exceptions
    .filter((one) => one.date >= date)
    .toSorted((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0))

export type CrewExposure = {
  readonly donePoints: number
  readonly plannedPoints: number
  readonly limit: number
  /** L_EX,8h over the day, done and planned; null when no known noise. */
  readonly noiseDba: number | null
  readonly noiseLimit: number
  /** Techniques of the day whose figure nobody has entered, by name. */
  readonly unknown: readonly string[]
}

/** One person's day against the lab's limits; null before the lab has settings. */
export function exposureOn(records: Records, personId: string, date: string): CrewExposure | null {
  const lab = records.lab.get('lab')
  if (!lab) return null
  const exposure = exposureOf(
    records,
    date,
    assignmentsOn(records, date).filter((turn) => turn.personId === personId),
    personId,
  )
  const donePoints = vibrationPoints(
    exposure.running.flatMap(({ technique, minutes, isDone }) =>
      isDone && technique.vibrationMs2 !== null ? [{ vibrationMs2: technique.vibrationMs2, minutes }] : [],
    ),
  )
  const unknown = new Set([...exposure.unknownVibration, ...exposure.unknownNoise])
  return {
    donePoints,
    plannedPoints: Math.max(0, exposure.vibrationPoints - donePoints),
    limit: lab.limits.vibrationPoints,
    noiseDba: exposure.noiseDba,
    noiseLimit: lab.limits.noiseDba,
    unknown: lab.techniques.filter((technique) => unknown.has(technique.id)).map((technique) => technique.name),
  }
}

/** Hours given in the year of a date; nothing given is nought. */
export function hoursThisYear(
  records: Records,
  personId: string,
  date: string,
): { readonly minutes: number; readonly stretches: number } {
  const tally = records.tally.get(`${date.slice(0, 4)}.${personId}`)
  return { minutes: tally?.minutes ?? 0, stretches: tally?.stretches ?? 0 }
}

/** A manager's private notes about a person or a piece, newest first. */
export function privateNotesAbout(
  records: Records,
  { aboutPersonId, aboutPieceId }: Pick<RecordOf<'privateNote'>, 'aboutPersonId' | 'aboutPieceId'>,
): readonly RecordOf<'privateNote'>[] {
  return [...records.privateNote.values()]
    .filter((note) => note.aboutPersonId === aboutPersonId && note.aboutPieceId === aboutPieceId)
    .toSorted(newestFirst)
}
