// "Fit for me": for one person and shift, every piece with the step and place they could claim it at, or what stands
// against it. Thousands of pieces are gone through while somebody types, so rules that do not depend on the piece are
// asked once for each technique and place, and the others are shown only the few turns that meet the piece or place.
import {
  type Finding,
  finding,
  type Person,
  type Place,
  type Records,
  type Shift,
  type Step,
  type Technique,
} from '#lib/words'
import { type DayView, dayOf, type Placed } from './day.ts'
import { assignmentsOn, massKgOf, type Piece, pieceOf, shiftOf, techniqueOf, turnId } from './find.ts'
import { missingInduction } from './induction.ts'
import { judgeByPiece, judgeByTechnique, newFindings } from './judge.ts'
import { isOfCrew, presenceOf } from './presence.ts'
import { judgeTaken } from './race.ts'

/** One way to work on a piece: a step at a place. No findings: it can be claimed. */
export type Way = {
  readonly stepId: Step['id']
  readonly placeId: Place['id']
  readonly findings: readonly Finding[]
}

export type Fit = {
  readonly pieceId: Piece['id']
  readonly isFit: boolean
  /** The ways that can be claimed; empty when none. */
  readonly ways: readonly Way[]
  /** What stands against the way that is nearest to being allowed; empty when fit. */
  readonly findings: readonly Finding[]
}

/** Every piece on the board that has an open step, fit or not, for one person in one shift. */
export function fitForMe(
  records: Records,
  who: { readonly personId: string },
  date: string,
  shiftId: string,
): readonly Fit[] {
  const asker = askerOf(records, who.personId, date, shiftId)
  const byPiece = new Map<string, Readonly<Step>[]>()
  for (const step of records.step.values()) {
    if (step.state === 'done' || step.state === 'dropped') continue
    const steps = byPiece.get(step.pieceId)
    if (steps) steps.push(step)
    else byPiece.set(step.pieceId, [step])
  }
  const fits: Fit[] = []
  for (const [pieceId, steps] of byPiece) {
    const piece = pieceOf(records, pieceId)
    if (piece) fits.push(fitOf(asker, piece, steps))
  }
  return fits
}

type Asker = {
  readonly records: Records
  readonly date: string
  /** Null when there is nobody or no shift to ask for. */
  readonly seat: { readonly person: Readonly<Person>; readonly shift: Readonly<Shift> } | null
  readonly tied: DayView['tied']
  /** What stands against anything at all: not of the crew, already seated, away. */
  readonly findings: readonly Finding[]
  readonly others: readonly Placed[]
  readonly before: readonly Finding[]
  /** Kilograms each place still bears in the shift; less than nothing where it takes no other piece. */
  readonly roomKg: ReadonlyMap<string, number>
  readonly byTechnique: Map<string, readonly Finding[]>
}

function askerOf(records: Records, personId: string, date: string, shiftId: string): Asker {
  const ownId = turnId(date, shiftId, personId)
  const turns = assignmentsOn(records, date).filter((one) => one.id !== ownId)
  const { day } = dayOf(records, date, turns)
  const findings: Finding[] = []
  const own = records.assignment.get(ownId)
  const person = records.person.get(personId)
  const shift = shiftOf(records, shiftId)
  if (!person || !isOfCrew(person)) findings.push(finding('O', 'not-crew', { person: personId }))
  else {
    const { basis, isAway } = presenceOf(records, person, date, shiftId)
    if (basis === 'closed') findings.push(finding('O', 'no-shift', { shift: shiftId, date }))
    for (const { name } of missingInduction(records, person, date))
      findings.push(finding('O', 'not-inducted', { person: personId, item: name }))
    if (isAway) findings.push(finding('O', 'is-away', { person: personId, shift: shiftId }))
  }
  if (own) findings.push(finding('R1', 'two-places', { assignment: ownId, person: personId, place: own.placeId }))
  return {
    records,
    date,
    seat: person && shift ? { person, shift } : null,
    tied: day.tied,
    findings,
    others: day.turns,
    before: judgeByTechnique(day),
    roomKg: roomOf(day, shiftId),
    byTechnique: new Map(),
  }
}

/** What a loose piece that nobody has in this shift finds at each place; the rules prove the same, piece by piece. */
function roomOf(day: DayView, shiftId: string): ReadonlyMap<string, number> {
  const tied = day.tied()
  const room = new Map<string, number>()
  for (const place of day.records.place.values()) {
    const here = day.turns.filter((one) => one.shift.id === shiftId && one.place.id === place.id)
    const pieces = [...new Set(here.map((one) => one.piece))]
    const isTaken = place.isExclusive && (pieces.length > 0 || tied.has(place.id))
    const borne = pieces.reduce((sum, piece) => sum + massKgOf(piece), 0)
    room.set(place.id, isTaken ? -1 : place.loadKgMax - borne)
  }
  return room
}

function fitOf(asker: Asker, piece: Piece, steps: readonly Readonly<Step>[]): Fit {
  const blocked = (findings: readonly Finding[]): Fit => ({ pieceId: piece.id, isFit: false, ways: [], findings })
  if (!asker.seat || asker.findings.length > 0) return blocked(asker.findings)
  const { person, shift } = asker.seat
  const ways: Way[] = []
  let nearest: readonly Finding[] | null = null
  for (const step of steps) {
    for (const way of waysOf(asker, step, (technique, place) => {
      const turn = { shiftId: shift.id, personId: person.id, pieceId: piece.id, stepId: step.id, placeId: place.id }
      const id = turnId(asker.date, shift.id, person.id)
      return { id, turn, person, shift, piece, step, technique, place, works: [] }
    })) {
      if (way.findings.length === 0) ways.push(way)
      else if (!nearest || way.findings.length < nearest.length) nearest = way.findings
    }
  }
  if (ways.length > 0) return { pieceId: piece.id, isFit: true, ways, findings: [] }
  return blocked(nearest ?? [finding('O', 'no-place', { piece: piece.id })])
}

/** Every place a step could be done at, with what stands against it; one way only when no place would help. */
function waysOf(
  asker: Asker,
  step: Readonly<Step>,
  placed: (technique: Readonly<Technique>, place: Readonly<Place>) => Placed,
): readonly Way[] {
  const { records, date, tied } = asker
  const technique = techniqueOf(records, step.techniqueId)
  if (!technique) return []
  const first = records.place.values().next().value
  if (!first) return []
  // Level, ceiling and order do not hang on the place: most pieces end here.
  const alone = judgeByPiece({ records, date, tied, turns: [placed(technique, first)] }).filter(
    (one) => !hangsOnPlace.has(one.code),
  )
  const mates = asker.others.filter((other) => other.piece.id === step.pieceId)
  const personal = alone.filter((one) => one.code !== 'step-waits' || mates.length === 0)
  if (personal.length > 0) return [{ stepId: step.id, placeId: first.id, findings: personal }]
  const ways: Way[] = []
  for (const place of records.place.values()) {
    const mine = placed(technique, place)
    const taken = mates.length > 0 ? judgeTaken(records, date, mine.turn) : []
    const isLoose = mates.length === 0 && !mine.piece.isTied
    const hasRoom = massKgOf(mine.piece) <= (asker.roomKg.get(place.id) ?? -1)
    const ofPiece = isLoose && hasRoom ? [] : ofPieceAt(asker, mine)
    ways.push({
      stepId: step.id,
      placeId: place.id,
      findings: taken.length > 0 ? taken : [...ofPiece, ...ofTechnique(asker, mine)],
    })
  }
  return ways
}

function ofPieceAt(asker: Asker, mine: Placed): readonly Finding[] {
  const { records, date, tied } = asker
  const met = asker.others.filter((other) => other.piece.id === mine.piece.id || other.place.id === mine.place.id)
  const judge = (turns: readonly Placed[]) => judgeByPiece({ records, date, tied, turns })
  return newFindings(judge(met), judge([...met, mine]))
}

/** Codes of judgeByPiece whose answer changes with the place or with who else is there. */
const hangsOnPlace: ReadonlySet<string> = new Set(['exclusive-taken', 'piece-tied', 'place-load'])

function ofTechnique(asker: Asker, mine: Placed): readonly Finding[] {
  const key = `${mine.technique.id} ${mine.place.id}`
  let findings = asker.byTechnique.get(key)
  if (!findings) {
    const day = { records: asker.records, date: asker.date, tied: asker.tied, turns: [...asker.others, mine] }
    findings = newFindings(asker.before, judgeByTechnique(day))
    asker.byTechnique.set(key, findings)
  }
  return findings
}
