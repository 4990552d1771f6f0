/** The way back from the search's tables to ids. */
import { at } from '#lib/base'
import { appraise, unmetMusts } from '../appraise.ts'
import type { Assignment, Solution } from '../problem.ts'
import { type Model, MUST_MARKS } from './model.ts'
import type { Snapshot } from './search.ts'

/** A snapshot as a solution: idle groups left out, ids instead of indices, in the order of the day. */
export function toSolution(model: Model, snapshot: Snapshot): Solution {
  const S = model.shifts
  const people = new Int32Array(model.pieces * S)
  snapshot.job.forEach((job, turn) => {
    if (job >= 0)
      people[at(model.jobPiece, job) * S + (turn % S)] = at(people, at(model.jobPiece, job) * S + (turn % S)) + 1
  })
  const lineUp: Assignment[] = []
  for (let shift = 0; shift < S; shift++) {
    for (let person = 0; person < model.persons; person++) {
      const turn = person * S + shift
      const job = at(snapshot.job, turn)
      if (job < 0 || at(people, at(model.jobPiece, job) * S + shift) < at(model.jobMin, job)) continue
      const mentor = at(snapshot.mentor, turn)
      lineUp.push({
        person: model.personIds[person] ?? '',
        shift: model.shiftIds[shift] ?? '',
        piece: model.pieceIds[at(model.jobPiece, job)] ?? '',
        step: model.steps[job]?.id ?? '',
        place: model.placeIds[at(snapshot.place, turn)] ?? '',
        mentor: mentor < 0 ? null : (model.personIds[mentor] ?? null),
      })
    }
  }
  const unmet = unmetMusts(model.problem, lineUp)
  // The search's own count of marks, not the checker's: verify compares the two.
  const score = snapshot.worth - (model.musts.length - unmet.length) * MUST_MARKS
  return { lineUp, score, parts: appraise(model.problem, lineUp), unmet, bound: null, isProven: false }
}
