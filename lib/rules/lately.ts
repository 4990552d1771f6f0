// What people had on the bench in the last four weeks: as kept by the days that left the board, and as the days still
// on it have it. What was worked on counts; where nothing was logged, the seat somebody had and was not away from.
import { addDays } from '#lib/base'
import { DAYS_LOOKED_BACK, type Lately, type Records } from '#lib/words'
import { pieceOf, turnId } from './find.ts'

/** What everybody would like to have on the bench: pieces for show and delicate ones, then fresh bone; papers least. */
export function appealOf(records: Records, pieceId: string): number {
  const piece = pieceOf(records, pieceId)
  if (!piece) return 50
  if (!('stage' in piece)) return piece.state === 'sealed' ? 65 : 40
  if (piece.stage === 'stabilised' || piece.stage === 'housed') return 35
  if (piece.isPriority || piece.purpose !== 'research') return 75
  return piece.stage === 'exposing' || piece.stage === 'joining' ? 60 : 50
}

/** One turn somebody had. */
export type LatelyTurn = Lately['turns'][number]

/** Everybody's turns in the four weeks before a date, oldest first. */
export function latelyBefore(records: Records, date: string): ReadonlyMap<string, readonly LatelyTurn[]> {
  const oldest = addDays(date, -DAYS_LOOKED_BACK)
  const isLately = (day: string): boolean => day >= oldest && day < date
  const turns = new Map<string, LatelyTurn[]>()
  const known = new Set<string>()
  const add = (personId: string, turn: LatelyTurn): void => {
    const own = turns.get(personId)
    if (own) own.push(turn)
    else turns.set(personId, [turn])
  }
  for (const { id, turns: kept } of records.lately.values()) {
    for (const turn of kept) {
      if (!isLately(turn.date)) continue
      add(id, turn)
      known.add(turnId(turn.date, turn.shiftId, id))
    }
  }
  const worked = new Map<string, Set<string>>()
  const note = (turn: Pick<LatelyTurn, 'date' | 'shiftId' | 'pieceId'> & { readonly personId: string }): void => {
    const id = turnId(turn.date, turn.shiftId, turn.personId)
    const pieces = worked.get(id) ?? new Set()
    if (!isLately(turn.date) || known.has(id) || pieces.has(turn.pieceId)) return
    worked.set(id, pieces.add(turn.pieceId))
    const { date: day, shiftId, pieceId } = turn
    add(turn.personId, { date: day, shiftId, pieceId, appealPct: appealOf(records, pieceId) })
  }
  for (const work of records.work.values()) note(work)
  for (const turn of records.assignment.values()) {
    const state = records.attendance.get(turn.id)?.state
    if (!worked.has(turn.id) && state !== 'away') note(turn)
  }
  for (const own of turns.values()) own.sort((a, b) => compare(keyOf(a), keyOf(b)))
  return turns
}

const keyOf = (turn: LatelyTurn): string => `${turn.date} ${turn.shiftId} ${turn.pieceId}`

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)
