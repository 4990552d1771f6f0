// The Floor in one shift: every place with its seats, the people on them and the pieces on the bench. A line-up that
// is only proposed is shown by the same code, given its assignments instead of the posted ones.
import { daysBetween, minuteOf } from '#lib/base'
import { isClosedOn, levelOf, metresBetween } from '#lib/rules'
import type { PersonId, PieceId, PlaceId, RecordOf, Records, ShiftId, Stage, StepId, TechniqueId } from '#lib/words'
import { crewOf, lookOf, type Presence, type SeatLook } from './floor-presence.ts'

/** Chance of being ready by its date, in tenths, by piece; a piece without a forecast is not in it. */
export type Chances = ReadonlyMap<string, number>

/** What a line-up says of one person: posted, or only drawn up. */
export type Turn = {
  readonly shiftId: ShiftId
  readonly personId: PersonId
  readonly pieceId: PieceId
  readonly stepId: StepId
  readonly placeId: PlaceId
  readonly how: 'drawn' | 'held' | 'claimed'
}

/** A person on a stool. */
export type Sitter = Turn & {
  readonly name: string
  readonly look: SeatLook
  readonly dueAt: string | null
  readonly techniqueId: TechniqueId | null
  /** Short technique word for tags. */
  readonly technique: string
  readonly level: number
  /** The one a learner works beside. */
  readonly mentorId: PersonId | null
  readonly isMentor: boolean
  /** Work of today on this piece: running, paused, finished. */
  readonly work: RecordOf<'work'>['state'] | null
}

/** A piece as its tag shows it. */
export type PieceTag = {
  readonly pieceId: PieceId
  readonly number: string
  readonly name: string
  readonly stage: Stage
  readonly lengthM: number
  readonly widthM: number
  readonly massKg: number
  readonly isTied: boolean
  readonly due: { readonly date: string; readonly days: number; readonly tenths: number | null } | null
  readonly isAtRisk: boolean
}

/** A place in the shift. */
export type PlaceOnFloor = {
  readonly place: RecordOf<'place'>
  readonly isClosed: boolean
  readonly sitters: readonly Sitter[]
  readonly freeSeats: number
  /** What is worked on, then what else lies here. */
  readonly pieces: readonly PieceTag[]
}

export type Floor = {
  readonly date: string
  readonly shiftId: ShiftId
  readonly places: readonly PlaceOnFloor[]
  readonly presence: ReadonlyMap<PersonId, Presence>
  /** In (or expected) without a turn. */
  readonly unseated: readonly Presence[]
  readonly away: readonly Presence[]
}

/** Reads the Floor of a shift. `turns` replaces the posted line-up, for a proposal laid over it. */
export function floorOf(
  records: Records,
  at: { readonly date: string; readonly shiftId: ShiftId; readonly today: string; readonly minute: number },
  chances: Chances,
  turns: readonly Turn[] = turnsOf(records, at.date),
): Floor {
  const presence = crewOf(records, at.date, at.shiftId)
  const lab = records.lab.get('lab')
  const start = minuteOf(lab?.shifts.find((shift) => shift.id === at.shiftId)?.start ?? '00:00')
  const isTicked = [...presence.values()].some((person) => person.state === 'in')
  const nowMinute = at.date === at.today ? at.minute : null
  const here = turns.filter((turn) => turn.shiftId === at.shiftId)
  const seated = here.map((turn) =>
    sitterOf(records, at, turn, (id) => lookOf(presence.get(id), start, nowMinute, isTicked), presence),
  )
  const sitters = withMentors(records, seated)
  const assignedPieces = new Set(here.map((turn) => turn.pieceId))
  const places = placesInOrder(records).map((place): PlaceOnFloor => {
    const own = sitters.filter((sitter) => sitter.placeId === place.id).toSorted(bySeat)
    return {
      place,
      isClosed: isClosedOn(place, at.date),
      sitters: own,
      freeSeats: Math.max(0, place.seats - own.length),
      pieces: piecesAt(records, place.id, own, assignedPieces, at.date, chances),
    }
  })
  const seatedIds = new Set(here.map((turn) => turn.personId))
  const people = [...presence.values()]
  return {
    date: at.date,
    shiftId: at.shiftId,
    places,
    presence,
    unseated: people.filter((person) => !isAway(person) && !seatedIds.has(person.personId)),
    away: people.filter(isAway),
  }
}

/** Seats are given by id, so that a proposal and the posted day put the same people on the same stools. */
const bySeat = (a: Sitter, b: Sitter): number => (a.personId < b.personId ? -1 : 1)

/** The posted turns of a date. */
export function turnsOf(records: Records, date: string): readonly RecordOf<'assignment'>[] {
  return [...records.assignment.values()].filter((assignment) => assignment.date === date)
}

/** Places as one walks the room: by rows from the windows down, each from left to right; equal rows are 1.5 m deep. */
export function placesInOrder(records: Records): readonly RecordOf<'place'>[] {
  const row = (place: RecordOf<'place'>) => Math.floor(place.yM / 1.5)
  return [...records.place.values()].toSorted((a, b) => row(a) - row(b) || a.xM - b.xM || (a.id < b.id ? -1 : 1))
}

/** The tag of a jacket or specimen; null when the board does not have it. */
export function pieceTag(records: Records, pieceId: string, date: string, chances: Chances): PieceTag | null {
  const specimen = records.specimen.get(pieceId)
  const piece = specimen ?? records.jacket.get(pieceId)
  if (!piece) return null
  const dates = [...records.due.values()]
    .filter((due) => due.pieceId === pieceId && due.state === 'accepted')
    .map((due) => due.date)
    .toSorted()
  const first = dates[0]
  const tenths = chances.get(pieceId) ?? null
  const riskBelow = records.lab.get('lab')?.riskBelowTenths ?? 7
  return {
    pieceId: piece.id,
    number: specimen ? specimen.number : 'fieldNumber' in piece ? piece.fieldNumber : '',
    name: specimen ? specimen.name : 'contents' in piece ? piece.contents : '',
    stage: specimen ? specimen.stage : 'state' in piece ? jacketStage(piece.state) : 'sealed',
    lengthM: piece.lengthM,
    widthM: piece.widthM,
    massKg: piece.mass.weighedKg ?? (piece.mass.lowKg + piece.mass.highKg) / 2,
    isTied: piece.isTied,
    due: first === undefined ? null : { date: first, days: daysBetween(date, first), tenths },
    isAtRisk: first !== undefined && tenths !== null && tenths < riskBelow,
  }
}

function jacketStage(state: RecordOf<'jacket'>['state']): Stage {
  return state === 'sealed' ? 'sealed' : state === 'opened' ? 'opened' : 'released'
}

const isAway = (person: Presence): boolean => person.state === 'away' || person.state === 'left'

function sitterOf(
  records: Records,
  at: { readonly date: string; readonly shiftId: ShiftId },
  turn: Turn,
  look: (id: PersonId) => SeatLook,
  presence: ReadonlyMap<PersonId, Presence>,
): Sitter {
  const person = records.person.get(turn.personId)
  const step = records.step.get(turn.stepId)
  const technique = records.lab.get('lab')?.techniques.find((entry) => entry.id === step?.techniqueId)
  const work = [...records.work.values()].find(
    (entry) =>
      entry.personId === turn.personId &&
      entry.date === at.date &&
      entry.shiftId === at.shiftId &&
      entry.pieceId === turn.pieceId,
  )
  return {
    shiftId: turn.shiftId,
    personId: turn.personId,
    pieceId: turn.pieceId,
    stepId: turn.stepId,
    placeId: turn.placeId,
    how: turn.how,
    name: person?.name ?? '',
    look: look(turn.personId),
    dueAt: presence.get(turn.personId)?.dueAt ?? null,
    techniqueId: technique?.id ?? null,
    technique: technique?.short ?? '',
    level: technique && person ? levelOf(person, technique.id, at.date) : 0,
    mentorId: null,
    isMentor: false,
    work: work?.state ?? null,
  }
}

/** Ties each learner to the nearest mentor of the same technique within the lab's reach. */
function withMentors(records: Records, sitters: readonly Sitter[]): readonly Sitter[] {
  const reachM = records.lab.get('lab')?.limits.neighbourM ?? 0
  const placeOf = (sitter: Sitter) => records.place.get(sitter.placeId)
  const mentors = new Set<PersonId>()
  const tied = sitters.map((sitter): Sitter => {
    const own = placeOf(sitter)
    if (sitter.level !== 1 || !own) return sitter
    let best: { readonly id: PersonId; readonly apart: number } | null = null
    for (const other of sitters) {
      const place = placeOf(other)
      if (other.personId === sitter.personId || !place || other.look === 'away') continue
      if (!isMentorOf(records, other, sitter.techniqueId)) continue
      const apart = place.id === own.id ? 0 : metresBetween(own, place)
      if (apart <= reachM && (best === null || apart < best.apart)) best = { id: other.personId, apart }
    }
    if (!best) return sitter
    mentors.add(best.id)
    return { ...sitter, mentorId: best.id }
  })
  return tied.map((sitter) => (mentors.has(sitter.personId) ? { ...sitter, isMentor: true } : sitter))
}

function isMentorOf(records: Records, sitter: Sitter, techniqueId: TechniqueId | null): boolean {
  const person = records.person.get(sitter.personId)
  return techniqueId !== null && person?.skills.some((s) => s.techniqueId === techniqueId && s.level === 4) === true
}

function piecesAt(
  records: Records,
  placeId: PlaceId,
  sitters: readonly Sitter[],
  assigned: ReadonlySet<PieceId>,
  date: string,
  chances: Chances,
): readonly PieceTag[] {
  const ids = new Set<PieceId>(sitters.map((sitter) => sitter.pieceId))
  for (const piece of [...records.specimen.values(), ...records.jacket.values()]) {
    const isEmpty = 'state' in piece && piece.state === 'empty'
    if (piece.placeId === placeId && !assigned.has(piece.id) && !isEmpty) ids.add(piece.id)
  }
  return [...ids].flatMap((id) => pieceTag(records, id, date, chances) ?? [])
}
