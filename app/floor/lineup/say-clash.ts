// What cannot all be kept, in words: the turns, then each rule that stands against them, then what to do.
import type { ProposedClash } from '#lib/lineup'
import type { Finding, Records } from '#lib/words'
import { sayAir, sayCount, sayKg, sayList } from '../../_text/amounts.ts'
import { sayFinding } from '../../_text/findings/index.ts'
import { type Names, namesIn } from '../../_text/names.ts'

type Rule = ProposedClash['rules'][number]

/** Two sentences and one for each rule. */
export function sayClash(records: Records, { turns, rules }: ProposedClash): string {
  const say = namesIn(records)
  const isOneShift = new Set(turns.map(({ shiftId }) => shiftId)).size === 1
  const each = turns.map(({ personId, pieceId, placeId, shiftId }) => {
    const place = placeId === null ? '' : ` at ${say.place(placeId)}`
    return `${say.person(personId)} on ${say.piece(pieceId)}${place}${isOneShift ? '' : ` in ${say.shift(shiftId)}`}`
  })
  const when = isOneShift ? ` in ${say.shift(turns[0]?.shiftId)}` : ''
  const what = turns.length === 1 ? `${each[0]} cannot be${when}.` : `Not all of these can be${when}: ${sayList(each)}.`
  const held = turns.filter(({ kind }) => kind === 'hold').length
  const act =
    held > 1 ? ['Let one of them go.'] : held === 1 ? ['Let the hold go, or change what stands against it.'] : []
  return [what, ...rules.map((rule) => sayRule(say, rule)), ...act].join(' ')
}

/** What could not be kept by itself: whose hold or claim it is, and what stands against it. */
export function sayUnkept(records: Records, finding: Finding): string {
  const say = namesIn(records)
  const turn =
    records.hold.get(finding.ids.hold ?? '') ?? records.assignment.get(finding.ids.hold ?? finding.ids.claim ?? '')
  const what = finding.ids.hold === undefined ? 'claim' : 'hold'
  const whose = turn === undefined ? '' : `The ${what} of ${say.person(turn.personId)} at ${say.place(turn.placeId)}: `
  return `${whose}${sayFinding(finding, records)}`
}

/** A rule at its spot; in general words where it is not one spot alone. */
function sayRule(say: Names, { rule, ids, found, allowed }: Rule): string {
  const [a, b] = ids
  switch (rule) {
    case 'seats':
      return a ? `${say.place(a)} has ${sayCount(allowed, 'seat')}.` : 'There are not seats enough.'
    case 'onePlace':
      return a ? `${say.person(a)} can be at one place at a time.` : 'Nobody can be at two places at a time.'
    case 'exclusive':
      return a ? `${say.place(a)} takes one piece at a time.` : 'Some places take one piece at a time.'
    case 'mixing':
      return a
        ? `Dust, solvent and open view do not mix, and at ${say.place(a)} they would.`
        : 'Dust, solvent and open view do not mix.'
    case 'onePieceOnePlace':
      return `${a ? say.piece(a) : 'A piece'} can be at one place, on one step, at a time.`
    case 'presence':
      return a ? `${say.person(a)} is not in for ${say.shift(b)}.` : 'Who would be needed is not in.'
    case 'level':
      return a
        ? `${say.person(a)} has level ${found} for it, and it takes level ${allowed}.`
        : 'The others in do not have the level.'
    case 'mentor':
      return a ? `${say.person(a)} is learning it, and no mentor can sit near.` : 'A mentor would have to sit near.'
    case 'mentorLimit':
      return a
        ? `A mentor has ${sayCount(allowed, 'learner')} at most.`
        : 'The mentors have as many learners as they may.'
    case 'force':
      return `The work is above the force ceiling${a ? ` of ${say.piece(a)}` : ''}.`
    case 'air':
      return a
        ? `${sayAir(found)} would be drawn in ${say.shift(a)}; there are ${sayAir(allowed)}.`
        : 'There is not air enough.'
    case 'airLines':
      return a ? `${say.place(a)} has ${sayCount(allowed, 'air line')}.` : 'There are not air lines enough.'
    case 'vibration':
    case 'noise':
      return `${a ? say.person(a) : 'Somebody'} would be above the day’s limit for ${rule}.`
    case 'classMinutes':
      return `${a ? say.person(a) : 'Somebody'} has no minutes left for that kind of tool.`
    case 'load':
      return a
        ? `${say.place(a)} bears ${sayKg(allowed)}; ${sayKg(found)} would stand there.`
        : 'Other places do not bear it.'
    case 'length':
      return a ? `${say.piece(a)} is too long for ${say.place(b)}.` : 'It is too long for other places.'
    case 'tied':
      return `${a ? say.piece(a) : 'The piece'} cannot be moved for now.`
    case 'closed':
      return a ? `${say.place(a)} is out of use.` : 'A place that would do is out of use.'
    case 'features':
      return a ? `${say.place(a)} is not fitted for it.` : 'Other places are not fitted for it.'
    case 'helpers':
      if (!a) return 'The hands that the step takes are not to be had.'
      return found < allowed
        ? `The step on ${say.piece(a)} takes ${sayCount(allowed, 'person', 'people')} at once, and nobody can join.`
        : `The step on ${say.piece(a)} takes ${sayCount(allowed, 'person', 'people')} at most.`
    case 'turns':
      return a
        ? `The hours left on ${say.piece(a)} are worth ${sayCount(allowed, 'turn')} today.`
        : 'The hours left on it are used.'
    case 'forbidden':
      return a ? `A “not together” keeps ${say.person(a)} from it.` : 'A “not together” stands against it.'
    default:
      return 'Something of it is no longer on the board.'
  }
}
