// One piece's Sheet: what it is, where it lies, who is on it today, its dates, questions and escalations in the order
// one reads them. Jacket and specimen come in one shape; what only one of them has is null on the other.
import { minuteOf } from '#lib/base'
import { techniqueOf } from '#lib/rules'
import type { PersonId, PieceId, PlaceId, RecordOf, Records, ShiftId, Stage, TechniqueId } from '#lib/words'

/** Somebody who is on the piece today. */
export type OnPiece = {
  readonly personId: PersonId
  readonly placeId: PlaceId
  readonly shiftId: ShiftId
  readonly techniqueId: TechniqueId | null
  /** now: the shift runs. next: it is still to come. over: it has been. */
  readonly when: 'now' | 'next' | 'over'
  readonly work: RecordOf<'work'>['state'] | null
}

export type Sheet = {
  readonly id: PieceId
  readonly jacket: RecordOf<'jacket'> | null
  readonly specimen: RecordOf<'specimen'> | null
  readonly piece: RecordOf<'jacket'> | RecordOf<'specimen'>
  readonly number: string
  readonly name: string
  /** The stage its stone is drawn in; an empty jacket is drawn as gone. */
  readonly stage: Stage
  /** Live dates first, soonest first; then those that ended, latest first. */
  readonly dues: readonly RecordOf<'due'>[]
  /** The first accepted date. */
  readonly due: RecordOf<'due'> | null
  /** Open questions first, newest first. */
  readonly questions: readonly RecordOf<'question'>[]
  /** Standing escalations first, newest first. */
  readonly escalations: readonly RecordOf<'escalation'>[]
  readonly watcherIds: readonly PersonId[]
  /** The jacket a specimen came from, while it is on the board. */
  readonly from: RecordOf<'jacket'> | null
  /** Specimens that came out of a jacket. */
  readonly specimens: readonly RecordOf<'specimen'>[]
  /** Today's turns, in the order of the day. */
  readonly today: readonly OnPiece[]
}

/** Reads the Sheet of a piece at a moment; null when it is not among the records. */
export function sheetOf(
  records: Records,
  pieceId: string,
  at: { readonly date: string; readonly minute: number },
): Sheet | null {
  const jacket = records.jacket.get(pieceId) ?? null
  const specimen = records.specimen.get(pieceId) ?? null
  const piece = specimen ?? jacket
  if (!piece) return null
  const dues = ofPiece(records.due, pieceId).toSorted(
    (a, b) =>
      Number(isLive(b)) - Number(isLive(a)) ||
      (isLive(a) ? order(a.date, b.date) : order(b.date, a.date)) ||
      byId(a, b),
  )
  return {
    id: piece.id,
    jacket,
    specimen,
    piece,
    number: specimen?.number ?? jacket?.fieldNumber ?? '',
    name: specimen?.name ?? jacket?.contents ?? '',
    stage: specimen?.stage ?? (jacket?.state === 'empty' ? 'released' : (jacket?.state ?? 'sealed')),
    dues,
    due: dues.find((due) => due.state === 'accepted') ?? null,
    questions: ofPiece(records.question, pieceId).toSorted(
      (a, b) => Number(a.answer !== null) - Number(b.answer !== null) || order(b.at, a.at) || byId(a, b),
    ),
    escalations: ofPiece(records.escalation, pieceId).toSorted(
      (a, b) => Number(a.endedAt !== null) - Number(b.endedAt !== null) || order(b.at, a.at) || byId(a, b),
    ),
    watcherIds: ofPiece(records.watch, pieceId).map((watch) => watch.personId),
    from: (specimen?.jacketId && records.jacket.get(specimen.jacketId)) || null,
    specimens: jacket
      ? [...records.specimen.values()]
          .filter((one) => one.jacketId === pieceId)
          .toSorted((a, b) => order(a.number, b.number) || byId(a, b))
      : [],
    today: turnsOn(records, pieceId, at),
  }
}

/** True when a person is assigned to the piece on a date or has worked on it then: what a volunteer may write on. */
export function isOnPiece(records: Records, personId: string, pieceId: string, date: string): boolean {
  const isIt = (one: RecordOf<'assignment'> | RecordOf<'work'>) =>
    one.personId === personId && one.pieceId === pieceId && one.date === date
  for (const turn of records.assignment.values()) if (isIt(turn)) return true
  for (const work of records.work.values()) if (isIt(work)) return true
  return false
}

function turnsOn(
  records: Records,
  pieceId: string,
  at: { readonly date: string; readonly minute: number },
): readonly OnPiece[] {
  const lab = records.lab.get('lab')
  const found: (OnPiece & { readonly start: string })[] = []
  for (const turn of records.assignment.values()) {
    if (turn.pieceId !== pieceId || turn.date !== at.date) continue
    const shift = lab?.shifts.find((one) => one.id === turn.shiftId)
    if (!shift) continue
    const step = records.step.get(turn.stepId)
    const works = [...records.work.values()].filter(
      (work) =>
        work.personId === turn.personId &&
        work.date === turn.date &&
        work.shiftId === turn.shiftId &&
        work.pieceId === pieceId,
    )
    found.push({
      personId: turn.personId,
      placeId: turn.placeId,
      shiftId: turn.shiftId,
      techniqueId: step && techniqueOf(records, step.techniqueId) ? step.techniqueId : null,
      when: at.minute >= minuteOf(shift.end) ? 'over' : at.minute >= minuteOf(shift.start) ? 'now' : 'next',
      work: works.find((work) => work.state !== 'finished')?.state ?? works[0]?.state ?? null,
      start: shift.start,
    })
  }
  return found.toSorted((a, b) => order(a.start, b.start) || order(a.personId, b.personId))
}

function ofPiece<T extends { readonly pieceId: string }>(table: ReadonlyMap<string, T>, pieceId: string): readonly T[] {
  const found: T[] = []
  for (const record of table.values()) if (record.pieceId === pieceId) found.push(record)
  return found
}

const isLive = (due: RecordOf<'due'>): boolean => due.state === 'asked' || due.state === 'accepted'
const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)
const byId = (a: { readonly id: string }, b: { readonly id: string }): number => order(a.id, b.id)
