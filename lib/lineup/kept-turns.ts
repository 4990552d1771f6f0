/**
 * What stays on a day whatever is drawn: turns with work on them, and all turns of shifts that are over. They are musts
 * of the problem; but a finished turn asks for no mentor any more, and a level lost since does not undo what was done.
 */
import { minuteOf } from '#lib/base'
import { assignmentsOn, isFinished, levelOf, pieceOf, type Turn, turnId } from '#lib/rules'
import type { DayFrame } from './day-frame.ts'
import type { Forbid } from './problem.ts'

type Day = Omit<DayFrame, 'kept' | 'fixed'>

/** Turns with work on them, and all turns of shifts that are over. */
export function keptTurns({ records, date, shifts, minute }: Day): readonly Turn[] {
  const begun = new Set<string>()
  for (const work of records.work.values()) {
    if (work.date === date) begun.add(turnId(date, work.shiftId, work.personId))
  }
  const over = new Set<string>(shifts.filter(({ end }) => minuteOf(end) <= minute).map(({ id }) => id))
  return assignmentsOn(records, date).filter((turn) => begun.has(turn.id) || over.has(turn.shiftId))
}

/** A kept turn that its person would not be given now, and the level that it takes as given. */
export interface Excused {
  readonly personId: string
  readonly shiftId: string
  readonly stepId: string
  readonly techniqueId: string
  readonly level: number
}

/** Kept turns whose person's level no longer carries them; who is learning right now still needs the mentor. */
export function excusedTurns({ records, date, shifts, minute, kept }: DayFrame): readonly Excused[] {
  return kept.flatMap((turn) => {
    const step = records.step.get(turn.stepId)
    const person = records.person.get(turn.personId)
    const piece = pieceOf(records, turn.pieceId)
    if (!step || !person || !piece) return []
    const need = 'isPriority' in piece && piece.isPriority ? 3 : 2
    const level = levelOf(person, step.techniqueId, date)
    const shift = shifts.find(({ id }) => id === turn.shiftId)
    const isPast =
      (shift && minuteOf(shift.end) <= minute) || isFinished(records, turnId(date, turn.shiftId, turn.personId))
    const isLearning = level === 1 && need === 2 && !isPast
    return level >= need || isLearning
      ? []
      : [{ personId: person.id, shiftId: turn.shiftId, stepId: step.id, techniqueId: step.techniqueId, level: need }]
  })
}

/** Forbids that keep an excused level to its one turn. */
export function boundsOf(
  excused: readonly Excused[],
  pieces: readonly {
    readonly id: string
    readonly steps: readonly { readonly id: string; readonly technique: string }[]
  }[],
  shiftIds: readonly string[],
): Forbid[] {
  return excused.flatMap(({ personId, shiftId, stepId, techniqueId }) =>
    pieces.flatMap((piece) =>
      piece.steps
        .filter(({ technique }) => technique === techniqueId)
        .flatMap(({ id }) => {
          const others = id === stepId ? shiftIds.filter((shift) => shift !== shiftId) : [null]
          return others.map((shift) => ({ person: personId, shift, piece: piece.id, step: id, place: null }))
        }),
    ),
  )
}
