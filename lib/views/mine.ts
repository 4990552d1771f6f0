// One person's day: where they sit in this shift and with what, what they could claim if they are free, and what is
// planned for them next. The phone's screen and nothing else is made from it.
import { minuteOf } from '#lib/base'
import { fitForMe, pieceOf, techniqueOf } from '#lib/rules'
import type { PieceId, PlaceId, RecordOf, Records, Shift, ShiftId, StepId, Technique } from '#lib/words'
import { featureCounts, wayToOffer } from './claim-way.ts'
import { floorOf } from './floor-day.ts'
import { crewOf, shiftsOn } from './floor-presence.ts'

type Assignment = RecordOf<'assignment'>

/** A turn with all it names; a turn whose records are gone from the board is not shown. */
export type MyTurn = {
  readonly assignment: Assignment
  readonly shift: Readonly<Shift>
  readonly place: RecordOf<'place'>
  readonly piece: RecordOf<'specimen'> | RecordOf<'jacket'>
  readonly step: RecordOf<'step'>
  readonly technique: Readonly<Technique>
  /** The work begun on it: running, paused, or the last that was finished. */
  readonly work: RecordOf<'work'> | null
}

export type MyShift = {
  /** The shift that runs now, else the next of the day, else the last; null when the lab is closed. */
  readonly shift: Readonly<Shift> | null
  readonly phase: 'before' | 'now' | 'over' | 'closed'
  readonly turn: MyTurn | null
  /** Own work that still runs or is paused, in whichever shift it was begun. */
  readonly open: MyTurn | null
  readonly attendance: RecordOf<'attendance'> | null
  readonly isPlanned: boolean
  /** Turns after this one, soonest first. */
  readonly next: readonly MyTurn[]
}

/** Reads one person's shift at a moment. */
export function myShiftOf(
  records: Records,
  personId: string,
  at: { readonly date: string; readonly minute: number },
  chosen: ShiftId | null = null,
): MyShift {
  const lab = records.lab.get('lab')
  const shifts = lab ? shiftsOn(lab, at.date) : []
  const running = shifts.find((shift) => at.minute < minuteOf(shift.end))
  const shift = shifts.find((one) => one.id === chosen) ?? running ?? shifts.at(-1) ?? null
  const own = [...records.assignment.values()]
    .filter((one) => one.personId === personId && one.date >= at.date)
    .flatMap((one) => turnOf(records, one) ?? [])
    .toSorted((a, b) => (startOf(a) < startOf(b) ? -1 : 1))
  const turn = own.find((one) => one.assignment.date === at.date && one.shift.id === shift?.id) ?? null
  const after = shift ? `${at.date} ${shift.start}` : `${at.date} 24:00`
  return {
    shift,
    phase: phaseOf(shift, at.minute),
    turn,
    open: own.find((one) => one.work !== null && one.work.state !== 'finished') ?? null,
    attendance: (shift && records.attendance.get(`${at.date}.${shift.id}.${personId}`)) ?? null,
    isPlanned:
      shift !== null && crewOf(records, at.date, shift.id).get(personId as Assignment['personId']) !== undefined,
    next: own.filter((one) => startOf(one) > after),
  }
}

const startOf = (turn: MyTurn): string => `${turn.assignment.date} ${turn.shift.start}`

function phaseOf(shift: Readonly<Shift> | null, minute: number): MyShift['phase'] {
  if (!shift) return 'closed'
  if (minute < minuteOf(shift.start)) return 'before'
  return minute < minuteOf(shift.end) ? 'now' : 'over'
}

function turnOf(records: Records, assignment: Assignment): MyTurn | null {
  const shift = records.lab.get('lab')?.shifts.find((one) => one.id === assignment.shiftId)
  const place = records.place.get(assignment.placeId)
  const piece = pieceOf(records, assignment.pieceId)
  const step = records.step.get(assignment.stepId)
  const technique = step && techniqueOf(records, step.techniqueId)
  if (!shift || !place || !piece || !step || !technique) return null
  return { assignment, shift, place, piece, step, technique, work: workOf(records, assignment) }
}

function workOf(records: Records, turn: Assignment): RecordOf<'work'> | null {
  let latest: RecordOf<'work'> | null = null
  for (const work of records.work.values()) {
    const isOwn =
      work.personId === turn.personId &&
      work.date === turn.date &&
      work.shiftId === turn.shiftId &&
      work.stepId === turn.stepId
    if (isOwn && (latest === null || work.startedAt > latest.startedAt)) latest = work
  }
  return latest
}

/** One thing a free person could claim. */
export type Claimable = {
  readonly pieceId: PieceId
  readonly stepId: StepId
  readonly placeId: PlaceId
  /** First accepted date of the piece. */
  readonly dueOn: string | null
  /** The person has worked on it before. */
  readonly isKnown: boolean
  readonly isLoved: boolean
}

/**
 * What somebody could claim in a shift, the most fitting first: begun by them, then dated soonest, then what they
 * love doing, then by piece.
 */
export function claimableFor(
  records: Records,
  personId: string,
  date: string,
  shiftId: ShiftId,
  most = 12,
): readonly Claimable[] {
  const loves = new Set<string>(records.person.get(personId)?.loves ?? [])
  const counts = featureCounts(records)
  const found: Claimable[] = []
  for (const fit of fitForMe(records, { personId }, date, shiftId)) {
    const way = wayToOffer(records, fit, counts)
    const step = way && records.step.get(way.stepId)
    if (!way || !step) continue
    found.push({
      pieceId: fit.pieceId,
      stepId: way.stepId,
      placeId: way.placeId,
      dueOn: firstDateOf(records, fit.pieceId),
      isKnown: step.by.some((one) => one.personId === personId),
      isLoved: loves.has(step.techniqueId),
    })
  }
  const last = '9999-12-31'
  return found
    .toSorted(
      (a, b) =>
        Number(b.isKnown) - Number(a.isKnown) ||
        order(a.dueOn ?? last, b.dueOn ?? last) ||
        Number(b.isLoved) - Number(a.isLoved) ||
        order(a.pieceId, b.pieceId),
    )
    .slice(0, most)
}

const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)

function firstDateOf(records: Records, pieceId: string): string | null {
  let first: string | null = null
  for (const due of records.due.values()) {
    if (due.pieceId === pieceId && due.state === 'accepted' && (first === null || due.date < first)) first = due.date
  }
  return first
}

/** Who learns and who mentors beside one in a turn. */
export type Beside = {
  /** The one a learner works beside, and where that one sits. */
  readonly mentor: { readonly name: string; readonly code: string } | null
  readonly learners: readonly string[]
}

/** Reads it from the Floor of that shift, so that phone and plan say the same. */
export function besideOf(records: Records, { personId, date, shiftId }: Assignment): Beside {
  const floor = floorOf(records, { date, shiftId, today: date, minute: 0 }, new Map())
  const sitters = floor.places.flatMap((entry) => entry.sitters.map((sitter) => ({ sitter, code: entry.place.code })))
  const own = sitters.find(({ sitter }) => sitter.personId === personId)?.sitter
  const mentor = sitters.find(({ sitter }) => sitter.personId === own?.mentorId)
  return {
    mentor: mentor ? { name: mentor.sitter.name, code: mentor.code } : null,
    learners: sitters.flatMap(({ sitter }) => (sitter.mentorId === personId ? [sitter.name] : [])),
  }
}

/** The benches beside a place, left to right, itself among them: a strip that tells where one sits. */
export function rowOf(records: Records, place: RecordOf<'place'>, most = 4): readonly RecordOf<'place'>[] {
  const row = [...records.place.values()]
    .filter((one) => Math.abs(one.yM - place.yM) < 1.5)
    .toSorted((a, b) => a.xM - b.xM || order(a.id, b.id))
  const own = row.findIndex((one) => one.id === place.id)
  const from = Math.max(0, Math.min(own - 1, row.length - most))
  return row.slice(from, from + most)
}

/** Minutes at work, the running stretch included. */
export function minutesAtWork(work: RecordOf<'work'>, nowMs: number): number {
  const running = work.since === null ? 0 : Math.max(0, Math.floor((nowMs - Date.parse(work.since)) / 60_000))
  return work.minutes + running
}
