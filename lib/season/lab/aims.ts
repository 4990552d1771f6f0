/**
 * What the season is for: dates to keep and, beside them, pieces worth their hours. Worth is our judgement of what the
 * records say of a piece, told here number by number; it only ranks pieces without dates, and has no unit.
 */
import { daysBetween } from '#lib/base'
import { pieceOf } from '#lib/rules'
import type { RecordOf, Records } from '#lib/words'
import type { LabModel } from './model.ts'

interface Aim {
  readonly dueId: string
  readonly piece: number
  readonly date: string
  /** Days from the season's first; negative when past. */
  readonly day: number
  readonly isHard: boolean
  readonly isAsked: boolean
  /** What keeping it is worth beside the others: hard 1, soft 0.5, as in the line-up's sense of urgency a little less. */
  readonly weight: number
}

export interface Aims {
  /** By date, then id. Dates of pieces that are ready are none. */
  readonly dates: readonly Aim[]
  readonly value: Float64Array
  /** 1 for a piece that nobody has opened. */
  readonly isUnseen: Int32Array
  /** 1 for a sealed jacket. */
  readonly isJacket: Int32Array
  /** Share of the piece's hours that are done, 0 to 1: what is begun is finished before something new is opened. */
  readonly progress: Float64Array
}

const SOFT_WEIGHT = 0.5

/** The aims of a season for its pieces. */
export function aimsOf(records: Records, model: LabModel): Aims {
  const indexOf = new Map(model.pieceIds.map((id, index) => [id, index]))
  const dates: Aim[] = []
  for (const due of records.due.values()) {
    const piece = indexOf.get(due.pieceId)
    if (piece === undefined || (due.state !== 'accepted' && due.state !== 'asked')) continue
    dates.push({
      dueId: due.id,
      piece,
      date: due.date,
      day: daysBetween(model.from, due.date),
      isHard: due.isHard,
      isAsked: due.state === 'asked',
      weight: due.isHard ? 1 : SOFT_WEIGHT,
    })
  }
  dates.sort((a, b) => a.day - b.day || (a.dueId < b.dueId ? -1 : 1))
  const pieces = model.pieceIds.map((id) => pieceOf(records, id))
  const counts = countsOf(records)
  return {
    dates,
    value: Float64Array.from(pieces, (piece) => (piece ? worthOf(piece, counts.get(piece.id) ?? NOBODY) : 0)),
    isUnseen: Int32Array.from(pieces, (piece) => (piece && isSealed(piece) ? 1 : 0)),
    isJacket: Int32Array.from(pieces, (piece) => (piece && !('stage' in piece) && isSealed(piece) ? 1 : 0)),
    progress: progressOf(records, model),
  }
}

type Piece = NonNullable<ReturnType<typeof pieceOf>>
interface Interest {
  readonly followers: number
  readonly questions: number
}

const NOBODY: Interest = { followers: 0, questions: 0 }
const isSealed = (piece: Piece): boolean => ('stage' in piece ? piece.stage : piece.state) === 'sealed'

/** 1 for being there; 1 for each follower up to four; 1 for each open question up to two; 2 for show; 1 for priority. */
function worthOf(piece: Piece, { followers, questions }: Interest): number {
  const interest = 1 + Math.min(4, followers) + Math.min(2, questions)
  if ('stage' in piece) return interest + (piece.purpose === 'research' ? 0 : 2) + (piece.isPriority ? 1 : 0)
  // A jacket whose contents are known is a promise, one part of a find that is being put together more so.
  return interest + (piece.contents === '' ? 0 : 0.5) + (piece.partOf === null ? 0 : 1)
}

function countsOf(records: Records): ReadonlyMap<string, Interest> {
  const counts = new Map<string, Interest>()
  const of = (id: string) => counts.get(id) ?? NOBODY
  for (const { pieceId } of records.watch.values()) {
    counts.set(pieceId, { ...of(pieceId), followers: of(pieceId).followers + 1 })
  }
  for (const { pieceId, answer } of records.question.values()) {
    if (answer === null) counts.set(pieceId, { ...of(pieceId), questions: of(pieceId).questions + 1 })
  }
  return counts
}

function progressOf(records: Records, model: LabModel): Float64Array {
  const done = new Map<string, { done: number; all: number }>()
  for (const step of records.step.values()) {
    if (step.state === 'dropped') continue
    const sum = done.get(step.pieceId) ?? { done: 0, all: 0 }
    const hours = plannedH(step)
    done.set(step.pieceId, {
      done: sum.done + (step.state === 'done' ? hours : Math.min(hours, step.doneMinutes / 60)),
      all: sum.all + hours,
    })
  }
  return Float64Array.from(model.pieceIds, (id) => {
    const sum = done.get(id)
    return sum && sum.all > 0 ? sum.done / sum.all : 0
  })
}

const plannedH = ({ hours }: RecordOf<'step'>): number => hours.likelyH
