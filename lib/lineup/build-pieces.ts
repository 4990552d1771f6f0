/**
 * The pieces of a day's problem: what may be done next on each, how dated it is, who knows it, how hard it is to move.
 * Percentages here are judgements of ours, each told where it is made; the score's weights are the lab's.
 */
import { daysBetween } from '#lib/base'
import {
  airKindsOf,
  appealOf,
  ceilingOf,
  labOf,
  massKgOf,
  minutesClassOf,
  type Piece,
  pieceOf,
  shiftMinutes,
  stepsBefore,
  techniqueOf,
} from '#lib/rules'
import type { RecordOf, Records } from '#lib/words'
import { handsOf } from './build-lately.ts'
import { type DayFrame, OPEN_PLACE, pointsPerHour } from './day-frame.ts'
import { DATED_PERCENT, type ProblemInput } from './problem.ts'
import { sortOf } from './special-places.ts'

type ProblemPiece = ProblemInput['pieces'][number]
type ProblemStep = ProblemPiece['steps'][number]

/** Rungs of a piece without a ceiling: a jacket. */
const NO_CEILING = 50
/** Days from which a date presses at all. */
const FAR_DAYS = 120
/** Days after which a step that could have been done counts as put off altogether. */
const NEGLECT_DAYS = 45

/** A piece whose turn it is in the season's plan presses a little, always less than one with a date. */
const PULL_PERCENT = DATED_PERCENT - 1

/** Every piece with something to do today. */
export function buildPieces(
  frame: DayFrame,
  reserved: ReadonlyMap<string, string>,
  chances: ReadonlyMap<string, number>,
  pulls: ReadonlyMap<string, number>,
): ProblemPiece[] {
  const { records } = frame
  const stepsOf = new Map<string, RecordOf<'step'>[]>()
  for (const step of records.step.values()) {
    const list = stepsOf.get(step.pieceId)
    if (list) list.push(step)
    else stepsOf.set(step.pieceId, [step])
  }
  const duesOf = new Map<string, RecordOf<'due'>[]>()
  for (const due of records.due.values()) {
    if (due.state === 'accepted') duesOf.set(due.pieceId, [...(duesOf.get(due.pieceId) ?? []), due])
  }
  const keptTurns = new Map<string, number>()
  for (const turn of frame.kept) keptTurns.set(turn.stepId, (keptTurns.get(turn.stepId) ?? 0) + 1)
  const handsOn = handsOf(frame)
  const built: ProblemPiece[] = []
  for (const [pieceId, steps] of stepsOf) {
    const piece = pieceOf(records, pieceId)
    if (!piece) continue
    const open = steps.filter((step) => keptTurns.has(step.id) || (isWorkable(piece) && isNext(records, step)))
    const offered = open.flatMap((step) => stepFor(frame, piece, step, keptTurns.get(step.id) ?? 0, reserved))
    const at = standsAt(records, piece)
    // Tied to furniture without a seat: nobody can work on it today.
    if (offered.length === 0 || (piece.isTied && piece.placeId !== null && at === null)) continue
    built.push({
      id: piece.id,
      kind: 'stage' in piece ? 'specimen' : 'jacket',
      ceiling: ceilingOf(records, piece.id) ?? NO_CEILING,
      massKg: Math.ceil(massKgOf(piece)),
      lengthCm: Math.round(piece.lengthM * 100),
      tiedTo: piece.isTied ? at : null,
      at,
      urgencyPercent: Math.max(
        Math.round(PULL_PERCENT * (pulls.get(pieceId) ?? 0)),
        ...(duesOf.get(pieceId) ?? []).map((due) => urgencyOf(due, frame.date, chances)),
      ),
      isDelicate: 'isPriority' in piece && piece.isPriority,
      appealPercent: appealOf(records, pieceId),
      moveCostPercent: moveCostOf(massKgOf(piece)),
      hands: handsOn(pieceId),
      steps: offered,
    })
  }
  return built
}

/** The place a piece stands at, if anybody can sit there. */
const standsAt = (records: Records, piece: Piece): string | null =>
  piece.placeId !== null && (records.place.get(piece.placeId)?.seats ?? 0) > 0 ? piece.placeId : null

const isWorkable = (piece: Piece): boolean =>
  'stage' in piece
    ? piece.stage !== 'released'
    : piece.state === 'opened' || (piece.state === 'sealed' && piece.isInSeason)

const isNext = (records: Records, step: RecordOf<'step'>): boolean =>
  (step.state === 'waiting' || step.state === 'begun') && stepsBefore(records, step).length === 0

/** A step as the solver sees it; none when its technique is no longer the lab's. */
function stepFor(
  frame: DayFrame,
  piece: Piece,
  step: RecordOf<'step'>,
  keptTurns: number,
  reserved: ReadonlyMap<string, string>,
): ProblemStep[] {
  const technique = techniqueOf(frame.records, step.techniqueId)
  if (!technique) return []
  const isAtOwnPlace = piece.isTied && piece.placeId !== null && reserved.get(piece.placeId) === piece.id
  const isOver = step.state === 'done' || step.state === 'dropped'
  return [
    {
      id: step.id,
      technique: technique.id,
      techniqueClass: minutesClassOf(technique, labOf(frame.records)?.limits)?.name ?? null,
      force: technique.force,
      // What is begun was allowed when it began; a ceiling set since does not undo it.
      isEscalated:
        keptTurns > 0 &&
        technique.force !== null &&
        technique.force > (ceilingOf(frame.records, piece.id) ?? NO_CEILING),
      turnsLeft: Math.max(1, keptTurns + (isOver ? 0 : turnsFor(frame, step))),
      // A tied piece is worked on where it lies, whatever the place is for.
      features: isAtOwnPlace ? technique.needs : [...technique.needs, sortOf(technique), OPEN_PLACE],
      people: { min: step.peopleMin, max: Math.max(step.peopleMin, step.peopleMax) },
      airLpm: Math.ceil(technique.airLpm),
      ...pointsPerHour(frame.records, technique, piece),
      givesOff: [...airKindsOf(technique)],
      triggerPercent: technique.runningPct,
      neglectPercent: neglectOf(piece, step, technique.group, frame.date),
    },
  ]
}

/** Turns that the hours left are worth, by the upper middle of the estimate; never none while the step is open. */
function turnsFor({ shifts }: DayFrame, step: RecordOf<'step'>): number {
  const { likelyH, highH } = step.hours
  const leftH = (likelyH + highH) / 2 - step.doneMinutes / 60
  const turnH = Math.max(1, ...shifts.map(shiftMinutes)) / 60
  return Math.min(1000, Math.max(1, step.peopleMin, Math.ceil(leftH / turnH)))
}

/** Below this chance more hands hardly help, and each hour is worth less to the date. */
const HOPELESS = 0.15

/**
 * A date presses the more the nearer it is and the smaller the chance to keep it, but a hopeless one does not draw all
 * hands; a soft one presses three quarters as much. A date that is past presses fully, a far and easy one a little.
 */
function urgencyOf(due: RecordOf<'due'>, date: string, chances: ReadonlyMap<string, number>): number {
  const days = daysBetween(date, due.date)
  const near = 1 - Math.min(FAR_DAYS, Math.max(0, days)) / FAR_DAYS
  const chance = chances.get(due.id) ?? near / 2
  const risk = chance < HOPELESS ? 0.4 + (0.45 * chance) / HOPELESS : 1 - chance
  return Math.round((20 + 40 * near + 40 * (days < 0 ? 1 : risk)) * (due.isHard ? 1 : 0.75))
}

/** By hand, by two people, with a trolley, with the hoist. */
function moveCostOf(massKg: number): number {
  if (massKg <= 5) return 10
  if (massKg <= 15) return 20
  if (massKg <= 33) return 40
  return massKg <= 150 ? 70 : 100
}

/** Joining, housing and papers are what gets put off; how long, since the specimen came to its present stage. */
function neglectOf(piece: Piece, step: RecordOf<'step'>, group: string, date: string): number {
  if (!('stage' in piece) || step.state !== 'waiting') return 0
  if (group !== 'joining' && group !== 'housing' && group !== 'consolidating') return 0
  return Math.round((100 * Math.min(NEGLECT_DAYS, Math.max(0, daysBetween(piece.stageSince, date)))) / NEGLECT_DAYS)
}
