/** The one line-up that is left when every turn has one job and every group one place: whether it is lawful, its worth. */
import { at } from '#lib/base'
import { appraise, scoreOf } from '../appraise.ts'
import type { Assignment } from '../problem.ts'
import { verifyRules } from '../verify.ts'
import { type Field, LEADS, LEARNS } from './field.ts'

interface Seat {
  readonly turn: number
  readonly place: number
  readonly technique: number
  readonly role: number
  readonly assignment: Assignment
}

/** Marks of a field's only line-up, whoever mentors whom; null when it breaks a rule. */
export function scoreOfOnly(field: Field): number | null {
  return onlyOf(field)?.score ?? null
}

/** A field's only line-up with its mentors; null when it breaks a rule. */
export function onlyOf(field: Field): { readonly lineUp: readonly Assignment[]; readonly score: number } | null {
  const seats = seatsOf(field)
  const mentors = mentorsOf(field, seats)
  if (mentors === null) return null
  const lineUp = seats.map(({ turn, assignment }) => ({
    ...assignment,
    mentor: field.model.personIds[mentors.get(turn) ?? -1] ?? null,
  }))
  const { problem } = field.model
  return verifyRules(problem, lineUp).length > 0 ? null : { lineUp, score: scoreOf(appraise(problem, lineUp)) }
}

function seatsOf({ model, cells, crewStart, crewTurn, crewKind, siteStart, sitePlace }: Field): Seat[] {
  const seats: Seat[] = []
  for (let c = 0; c < cells.length; c++) {
    const s = at(cells, c) % model.shifts
    const job = Math.floor(at(cells, c) / model.shifts)
    const place = at(sitePlace, at(siteStart, c))
    for (let i = at(crewStart, c); i < at(crewStart, c + 1); i++) {
      const turn = at(crewTurn, i)
      const assignment = {
        person: model.personIds[Math.floor(turn / model.shifts)] ?? '',
        shift: model.shiftIds[s] ?? '',
        piece: model.pieceIds[at(model.jobPiece, job)] ?? '',
        step: model.steps[job]?.id ?? '',
        place: model.placeIds[place] ?? '',
        mentor: null,
      }
      seats.push({ turn, place, technique: at(model.jobTechnique, job), role: at(crewKind, i), assignment })
    }
  }
  return seats
}

/** A mentor for every learner's turn, by paths that hand learners on; null when there are not enough. */
function mentorsOf({ model }: Field, seats: readonly Seat[]): ReadonlyMap<number, number> | null {
  const { shifts: S, techniques: T } = model
  const mentorOf = new Map<number, number>()
  const learnersOf = new Map<number, Seat[]>()
  const couldLead = (lead: Seat, learner: Seat): boolean =>
    lead.role === LEADS &&
    lead.turn % S === learner.turn % S &&
    at(model.levels, Math.floor(lead.turn / S) * T + learner.technique) >= 4 &&
    at(model.near, lead.place * model.places + learner.place) === 1
  const seat = (learner: Seat, tried: Set<number>): boolean => {
    for (const lead of seats) {
      if (tried.has(lead.turn) || !couldLead(lead, learner)) continue
      tried.add(lead.turn)
      const own = learnersOf.get(lead.turn) ?? []
      learnersOf.set(lead.turn, own)
      const leaver = own.length < model.mentorMax ? undefined : own.findIndex((other) => seat(other, tried))
      if (leaver === -1) continue
      if (leaver !== undefined) own.splice(leaver, 1)
      own.push(learner)
      mentorOf.set(learner.turn, Math.floor(lead.turn / S))
      return true
    }
    return false
  }
  return seats.every((learner) => learner.role !== LEARNS || seat(learner, new Set())) ? mentorOf : null
}
