// The labs that the board bench opens: the demo's room and crew on a posted morning, with as many pieces and steps as
// make the wanted number of board records, and any number of pieces at rest in the archive. Same seed, same lab.
import { propose } from '#lib/lineup'
import {
  type Change,
  homeOf,
  kinds,
  noRecords,
  PieceId,
  put,
  type RecordOf,
  type Records,
  StepId,
  withChanges,
} from '#lib/words'
import { demoRecords } from '../../demo/index.ts'

/** The morning that is opened; the server's clock is set to it. */
export const TODAY = '2026-03-12'
export const SHIFT = 'morning'
/** Enough of a search for a usual line-up, the same on every machine. */
const SOLVER_STEPS = 20_000

export interface BenchLab {
  readonly changes: readonly Change[]
  readonly managerId: string
  /** A volunteer of the morning who has no seat and may claim one. */
  readonly freeId: string
}

/** A lab with exactly so many records on its board. */
export function benchLab({ board, archived, seed }: { board: number; archived: number; seed: number }): BenchLab {
  const demo = demoRecords({ seed, today: TODAY })
  const posted = postedMorning(withChanges(noRecords(), demo), seed)
  const records = [...posted.records.values()]
  const onBoard = records
    .filter((change) => homeOf(change.kind, change.record) === 'board')
    .toSorted((a, b) => orderOf(a, posted.turns) - orderOf(b, posted.turns))
  const whole = [...onBoard, ...copiesOf(onBoard, board - onBoard.length)].slice(0, board)
  const kept = new Set(whole.map(({ id }) => id))
  // Sheets and the office are not the board's; they come along so that the server has its usual work.
  const beside = records.filter(({ kind, record }) => {
    const home = homeOf(kind, record)
    return home === 'office' || (home.startsWith('sheet/') && kept.has(home.slice('sheet/'.length)))
  })
  const resting = records.flatMap(({ record }) => (record && 'since' in record && 'dues' in record ? [record] : []))
  return {
    changes: [...whole, ...beside, ...restingCopies(resting, archived)],
    managerId: posted.managerId,
    freeId: posted.freeId,
  }
}

interface Posted {
  readonly records: ReadonlyMap<string, Change>
  /** What the posted turns of today name: people, pieces, steps. */
  readonly turns: ReadonlySet<string>
  readonly managerId: string
  readonly freeId: string
}

/** The demo with its morning drawn up and posted, all but one volunteer's seat. */
function postedMorning(demo: Records, seed: number): Posted {
  const people = [...demo.person.values()]
  const manager = people.find((person) => person.role === 'manager')
  const proposal = propose(demo, TODAY, { seq: 0, seed, steps: SOLVER_STEPS, isExplained: false })
  const volunteers = new Set<string>(people.filter(({ role }) => role === 'volunteer').map(({ id }) => id))
  const free = proposal.assignments.find(
    (turn) => turn.shiftId === SHIFT && turn.how === 'drawn' && turn.mentorId === null && volunteers.has(turn.personId),
  )
  if (!manager || !free) throw new Error('Believed: the demo has a manager, and a volunteer drawn for the morning')
  const turns = proposal.assignments.filter((turn) => turn.personId !== free.personId)
  const at = `${TODAY}T08:30:00.000Z`
  const changes: Change[] = [
    put('day', kinds.day.parse({ id: TODAY, postedAt: at, postedBy: manager.id, times: 1, note: '' })),
    ...turns.map(({ shiftId, personId, pieceId, stepId, placeId, how }) => {
      const turn = { date: TODAY, shiftId, personId, pieceId, stepId, placeId, how, by: manager.id, at }
      return put('assignment', kinds.assignment.parse({ id: `${TODAY}.${shiftId}.${personId}`, ...turn }))
    }),
  ]
  const records = withChanges(demo, changes)
  return {
    records: new Map(
      Object.entries(records).flatMap(([kind, table]) =>
        // The table's kind is its key.
        [...table.values()].map((record) => [`${kind} ${record.id}`, put(kind as 'lab', record as RecordOf<'lab'>)]),
      ),
    ),
    turns: new Set(turns.flatMap(({ pieceId, stepId }) => [pieceId, stepId])),
    managerId: manager.id,
    freeId: free.personId,
  }
}

const ALWAYS = new Set<string>(['lab', 'room', 'place', 'person', 'day'])

/** What comes first on a board that is too small for all; a record comes after those it names. */
function orderOf({ kind, id, record }: Change, turns: ReadonlySet<string>): number {
  if (ALWAYS.has(kind)) return 0
  if (turns.has(id)) return kind === 'step' ? 2 : 1
  if (record && 'date' in record && record.date === TODAY) return 3
  if (kind === 'jacket' || kind === 'specimen') return 4
  return kind === 'due' ? 5 : kind === 'step' ? 6 : 7
}

/** More pieces of the same sorts with their steps, waiting on the racks under numbers of their own. */
function copiesOf(onBoard: readonly Change[], count: number): readonly Change[] {
  const steps = onBoard.flatMap(({ record }) => (record && 'techniqueId' in record && 'rank' in record ? [record] : []))
  const pieces = onBoard.flatMap(({ record }) => (record && 'isTied' in record ? [record] : []))
  const copies: Change[] = []
  for (let round = 1; copies.length < count; round++) {
    for (const piece of pieces) {
      if (copies.length >= count) break
      const id = `${piece.id}-${round}`
      copies.push(
        'fieldNumber' in piece
          ? put(
              'jacket',
              kinds.jacket.parse({ ...piece, id, placeId: null, fieldNumber: `${piece.fieldNumber}-${round}` }),
            )
          : put('specimen', kinds.specimen.parse({ ...piece, id, placeId: null, number: `${piece.number}-${round}` })),
      )
      for (const step of steps.filter((step) => step.pieceId === piece.id))
        copies.push(put('step', kinds.step.parse({ ...step, id: `${step.id}-${round}`, pieceId: id })))
    }
  }
  return copies
}

/** As many pieces at rest as wanted, made from those of the demo under ids of their own. */
function restingCopies(resting: readonly RecordOf<'resting'>[], count: number): readonly Change[] {
  return Array.from({ length: count }, (_, i) => {
    const one = resting[i % resting.length]
    if (!one) throw new Error('Believed: the demo has pieces at rest')
    const id = PieceId.parse(`${one.id}-${i}`)
    const { jacket, specimen } = one
    return put('resting', {
      ...one,
      id,
      jacket: jacket && { ...jacket, id },
      specimen: specimen && { ...specimen, id },
      steps: one.steps.map((step) => ({ ...step, id: StepId.parse(`${step.id}-${i}`), pieceId: id })),
      dues: [],
    })
  })
}
