/**
 * Who and what a line-up leaves out: for each person without work and each dated piece that nobody works on, the
 * smallest changes that would bring it in beside the line-up as it stands, and whether that is worth it.
 *
 * Two things are told, each by computation. With the changes made the named turns can be added and no rule is broken:
 * the checker says so. And the changed day is searched with the turn in it and with the person or piece kept out
 * (trial.ts): only when the first is no worse is it called included, on a small day only when that is shown; else its
 * loss is told.
 */
import { appraiseTurn, minutesIn, scoreOf } from './appraise.ts'
import { applyChanges, type Change } from './change.ts'
import {
  needOf,
  type Room,
  roomOf,
  sizeOfAll,
  stepOf,
  type Way,
  waysOf,
  waysToPiece,
  wayTo,
  widened,
} from './obstacles.ts'
import {
  type Assignment,
  DATED_PERCENT,
  type Problem,
  type ProblemPiece,
  type ProblemStep,
  type Solution,
} from './problem.ts'
import { Trial } from './trial.ts'
import { verifyRules } from './verify.ts'

export interface LeftOut {
  readonly kind: 'person' | 'piece'
  readonly id: string
  /** The shift in which a person is idle; null for a piece, which is left out all day. */
  readonly shift: string | null
  /** What binds: the code of the first change; `fits` when none is needed; `nothing` when there is nothing to do. */
  readonly code: Change['code'] | 'fits' | 'nothing'
  /** All of them together let it in. */
  readonly changes: readonly Change[]
  /** The turns that the changes make possible: its own first, then those of helpers and a mentor who come with it. */
  readonly turns: readonly Assignment[]
  /** With the changes made, a line-up with it is as good as any found without. */
  readonly isIncluded: boolean
  /** What it would cost the day with the changes made, in thousandths; 0 when included, null when it was not tried. */
  readonly lossPerMille: number | null
}

/** Something that would bring it in. */
interface Entry {
  readonly turns: readonly Assignment[]
  readonly changes: readonly Change[]
}

/** Different changes that are tried for one left out, smallest first. */
const ENTRIES = 4
/** Changes of the day up to this size are looked for first; what takes weeks or a new bench only when there is none. */
const OF_THE_DAY = 120
/** Spots that are looked into where others have to come along. */
const SPOTS = 3

/** Everything left out, people in the order of the day, then pieces, the most urgent first. */
export function leftOutOf(
  problem: Problem,
  solution: Solution,
  isCancelled: () => boolean = () => false,
): readonly LeftOut[] {
  const room = roomOf(problem, solution.lineUp)
  const trial = new Trial(problem, solution, isCancelled)
  const idle = idleTurns(room)
  const people = idle.map(({ person, shift }) => {
    const entries = smallest(room, entriesOfPerson(room, idle, person, shift))
    return verdict(room, trial, { kind: 'person', id: person, shift }, entries)
  })
  const worked = new Set(solution.lineUp.map((turn) => turn.piece))
  const pieces = problem.pieces
    .filter(({ id, urgencyPercent, steps }) => urgencyPercent >= DATED_PERCENT && !worked.has(id) && steps.length > 0)
    .sort((a, b) => b.urgencyPercent - a.urgencyPercent || (a.id < b.id ? -1 : 1))
    .map((piece) => {
      const entries = smallest(room, entriesOfPiece(room, idle, piece))
      return verdict(room, trial, { kind: 'piece', id: piece.id, shift: null }, entries)
    })
  return [...people, ...pieces]
}

type Seat = Pick<Assignment, 'person' | 'shift'>

function idleTurns({ problem, lookup, lineUp }: Room): readonly Seat[] {
  const busy = new Set(lineUp.map((turn) => `${turn.person}\n${turn.shift}`))
  return lookup.order.flatMap((shift) =>
    problem.people
      .filter(({ id }) => !busy.has(`${id}\n${shift}`) && minutesIn(lookup, id, shift) >= 15)
      .map(({ id }) => ({ person: id, shift })),
  )
}

function entriesOfPerson(room: Room, idle: readonly Seat[], person: string, shift: string): readonly Entry[] {
  const near = waysOf(room, person, shift, OF_THE_DAY)
  const ways = near.length > 0 ? near : waysOf(room, person, shift)
  // With ways enough of one's own nobody else has to come along.
  const company =
    ways.length >= ENTRIES
      ? []
      : room.problem.pieces.flatMap((piece) => withCompany(room, idle, { person, shift }, piece))
  return [...withMentors(room, ways), ...company]
}

function entriesOfPiece(room: Room, idle: readonly Seat[], piece: ProblemPiece): readonly Entry[] {
  const of = (most: number): Entry[] =>
    idle.flatMap(({ person, shift }) => [...withMentors(room, waysToPiece(room, person, shift, piece, most))])
  const company = idle.flatMap((seat) => withCompany(room, idle, seat, piece))
  const near = [...of(OF_THE_DAY), ...company]
  if (near.length > 0) return near
  // With everybody busy or unable, it is hands that are missing.
  return [...newcomers(room, idle, piece), ...of(Number.POSITIVE_INFINITY)]
}

const NEWCOMER = 'one more'

function newcomers(room: Room, idle: readonly Seat[], piece: ProblemPiece): readonly Entry[] {
  return room.lookup.order.flatMap((shift) =>
    piece.steps.flatMap((step) => {
      const change = aNewcomer(NEWCOMER, shift, piece, step)
      const wider = widened(room, [change], [])
      const seat = { person: NEWCOMER, shift }
      const alone = waysToPiece(wider, NEWCOMER, shift, piece).filter(({ turn }) => turn.step === step.id)
      return [...alone.map(entryOf), ...withCompany(wider, idle, seat, piece)].map(({ turns, changes }) => ({
        turns,
        changes: [change, ...changes],
      }))
    }),
  )
}

const aNewcomer = (id: string, shift: string, piece: ProblemPiece, step: ProblemStep): Change => ({
  code: 'person',
  id,
  shift,
  technique: step.technique,
  level: needOf(piece, step),
})

const entryOf = ({ turn, changes }: Way): Entry => ({ turns: [turn], changes })

/** The ways as they are, and where a sign-off is asked of a learner, also with a mentor who comes instead. */
function withMentors(room: Room, ways: readonly Way[]): readonly Entry[] {
  if (room.problem.learnersPerMentorMax === 0) return ways.map(entryOf)
  const learning = ways
    .filter(({ changes }) => changes.some((change) => change.code === 'level' && change.from === 1 && change.to === 2))
    .sort((a, b) => sizeOfAll(a.changes) - sizeOfAll(b.changes))
  return [...ways.map(entryOf), ...learning.slice(0, SPOTS).flatMap((way) => withMentor(room, way))]
}

function withMentor(room: Room, way: Way): readonly Entry[] {
  const { shift } = way.turn
  const technique = stepOf(room.lookup, way.turn)?.technique ?? ''
  const mentor: Change = { code: 'mentor', id: NEWCOMER, shift, technique, level: 4 }
  const rest = way.changes.filter(({ code }) => code !== 'level')
  const turn = { ...way.turn, mentor: NEWCOMER }
  const wider = widened(room, [...rest, mentor], [turn])
  const place = wider.lookup.place.get(turn.place)
  if (place === undefined) return []
  const near = wider.problem.places.filter(
    ({ id, neighbours }) => id === place.id || place.neighbours.includes(id) || neighbours.includes(place.id),
  )
  let [best, most]: [Way | null, number] = [null, OF_THE_DAY]
  for (const piece of wider.problem.pieces) {
    for (const step of piece.steps) {
      if (step.technique !== technique || step.people.min > 1) continue
      for (const there of near) {
        const own = most < 0 ? null : wayTo(wider, NEWCOMER, shift, piece, step, there, most)
        if (own !== null) [best, most] = [own, sizeOfAll(own.changes) - 1]
      }
    }
  }
  return best === null ? [] : [{ turns: [turn, best.turn], changes: [...rest, mentor, ...best.changes] }]
}

/** Steps that several do at once: with others who have no work either, and as many more as are missing. */
function withCompany(room: Room, idle: readonly Seat[], seat: Seat, piece: ProblemPiece): readonly Entry[] {
  const { shift } = seat
  const others = idle.filter((one) => one.shift === shift && one.person !== seat.person).map(({ person }) => person)
  return piece.steps.flatMap((step) => {
    if (step.people.min <= 1 || room.atPiece.has(`${piece.id}\n${shift}`)) return []
    const firsts = room.problem.places
      .flatMap((place) => wayTo(room, seat.person, shift, piece, step, place, undefined, false) ?? [])
      .sort((a, b) => sizeOfAll(a.changes) - sizeOfAll(b.changes))
    return firsts.slice(0, SPOTS).flatMap((first) => withHelpers(room, others, { piece, step }, first) ?? [])
  })
}

function withHelpers(
  room: Room,
  others: readonly string[],
  { piece, step }: { readonly piece: ProblemPiece; readonly step: ProblemStep },
  first: Way,
): Entry | null {
  const { shift } = first.turn
  let wider = widened(room, first.changes, [first.turn])
  let entry = entryOf(first)
  const join = (person: string, more: readonly Change[], most: number): void => {
    const place = wider.lookup.place.get(first.turn.place)
    const grown = more.length === 0 ? wider : widened(wider, more, [])
    const way = place && wayTo(grown, person, shift, piece, step, place, most, false)
    if (!way) return
    entry = { turns: [...entry.turns, way.turn], changes: [...entry.changes, ...more, ...way.changes] }
    wider = widened(grown, way.changes, [way.turn])
  }
  for (const person of others) if (entry.turns.length < step.people.min) join(person, [], 0)
  for (let n = entry.turns.length; n < step.people.min; n++) {
    const id = `${NEWCOMER} to help ${n}`
    join(id, [aNewcomer(id, shift, piece, step)], Number.POSITIVE_INFINITY)
  }
  return entry.turns.length < step.people.min ? null : entry
}

/** The smallest entries, each with changes of its own; of equal changes the turn that is worth most. */
function smallest(room: Room, entries: readonly Entry[]): readonly Entry[] {
  const worth = ({ turns }: Entry): number =>
    turns[0] === undefined ? 0 : scoreOf(appraiseTurn(room.problem, room.lookup, turns[0]))
  const sorted = entries
    .map((entry) => ({
      entry,
      size: sizeOfAll(entry.changes),
      worth: worth(entry),
      key: JSON.stringify(entry.changes),
    }))
    .sort((a, b) => a.size - b.size || b.worth - a.worth || (a.key < b.key ? -1 : 1))
  const seen = new Set<string>()
  return sorted.filter(({ key }) => !seen.has(key) && seen.add(key).size <= ENTRIES).map(({ entry }) => entry)
}

function verdict(
  room: Room,
  trial: Trial,
  of: Pick<LeftOut, 'kind' | 'id' | 'shift'>,
  entries: readonly Entry[],
): LeftOut {
  let first: LeftOut | null = null
  for (const { turns, changes } of entries) {
    const problem = applyChanges(room.problem, changes)
    if (verifyRules(problem, [...room.lineUp, ...turns]).length > 0) continue
    const forbid = of.kind === 'piece' ? { piece: of.id } : { person: of.id, shift: of.shift }
    const lossPerMille = trial.lossPerMille(problem, turns, changes.length === 0, forbid)
    const isIncluded = lossPerMille !== null && lossPerMille <= 0
    const left = {
      ...of,
      code: changes[0]?.code ?? ('fits' as const),
      changes,
      turns,
      isIncluded,
      lossPerMille: isIncluded ? 0 : lossPerMille,
    }
    if (isIncluded) return left
    first ??= left
  }
  return first ?? { ...of, code: 'nothing', changes: [], turns: [], isIncluded: false, lossPerMille: null }
}
