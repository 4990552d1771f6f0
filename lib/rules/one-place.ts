// R1: a person is at most at one place in a shift; a place never holds more people than seats, nor two pieces when it
// takes only one at a time; and a piece is in one place only.
import { type Finding, finding } from '#lib/words'
import type { DayView, Placed } from './day.ts'

/** Persons and seats, whatever the pieces are. The turns beyond the seats, in the order given, are the ones named. */
export function judgeSeats(day: DayView): readonly Finding[] {
  const findings: Finding[] = []
  const seen = new Set<string>()
  const seated = new Map<string, number>()
  for (const one of day.turns) {
    const ids = { assignment: one.id, person: one.person.id, shift: one.shift.id }
    if (seen.has(one.id)) findings.push(finding('R1', 'two-places', ids))
    seen.add(one.id)
    const key = `${one.shift.id} ${one.place.id}`
    const people = (seated.get(key) ?? 0) + 1
    seated.set(key, people)
    if (people > one.place.seats) {
      findings.push(finding('R1', 'seat-taken', { ...ids, place: one.place.id }, { seats: one.place.seats, people }))
    }
  }
  return findings
}

/** Pieces: one place each in a shift, one at an exclusive place, and no more hands than the step takes. */
export function judgePieces(day: DayView): readonly Finding[] {
  const findings: Finding[] = []
  const earlier: Placed[] = []
  for (const one of day.turns) {
    const ids = { assignment: one.id, piece: one.piece.id, shift: one.shift.id, place: one.place.id }
    const sameShift = earlier.filter((other) => other.shift.id === one.shift.id)
    const samePiece = sameShift.filter((other) => other.piece.id === one.piece.id)
    const elsewhere = samePiece.find((other) => other.place.id !== one.place.id)
    if (elsewhere) {
      findings.push(finding('R1', 'piece-elsewhere', { ...ids, other: elsewhere.person.id, at: elsewhere.place.id }))
    }
    const otherStep = samePiece.find((other) => other.step.id !== one.step.id)
    if (otherStep) findings.push(finding('O', 'piece-other-step', { ...ids, other: otherStep.person.id }))
    else if (samePiece.length >= one.step.peopleMax) {
      const other = samePiece[0]?.person.id ?? ''
      findings.push(
        finding('O', 'piece-full', { ...ids, other }, { people: samePiece.length + 1, most: one.step.peopleMax }),
      )
    }
    if (one.place.isExclusive) {
      const other =
        sameShift.find((two) => two.place.id === one.place.id && two.piece.id !== one.piece.id)?.piece.id ??
        day
          .tied()
          .get(one.place.id)
          ?.find((id) => id !== one.piece.id)
      if (other) findings.push(finding('R1', 'exclusive-taken', { ...ids, other }))
    }
    earlier.push(one)
  }
  return findings
}
