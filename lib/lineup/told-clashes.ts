/**
 * What could not be kept, as the manager is told: each smallest set of holds, claims and begun turns with the rules
 * that stand against it, in the records' own ids; and a plain finding for whatever was left out without such a set.
 */
import { timeOfMinute } from '#lib/base'
import { turnId } from '#lib/rules'
import { type Finding, finding } from '#lib/words'
import { type Clash, clashesOf } from './clash.ts'
import type { MustRef, Problem, Solution } from './problem.ts'

/** A set of turns that cannot all be. */
export interface ProposedClash {
  readonly turns: readonly {
    readonly kind: 'hold' | 'claim' | 'begun'
    /** The assignment's key, which is the hold's as well. */
    readonly id: string
    readonly personId: string
    readonly shiftId: string
    readonly pieceId: string
    readonly placeId: string | null
  }[]
  readonly rules: Clash['rules']
}

/** The clashes of a final answer, and findings for what they do not name. */
export function toldClashes(
  problem: Problem,
  date: string,
  { unmet }: Solution,
): { readonly clashes: readonly ProposedClash[]; readonly findings: readonly Finding[] } {
  const turnOf = ({ kind, index }: MustRef) =>
    kind === 'clock' ? undefined : problem[kind === 'hold' ? 'holds' : kind === 'claim' ? 'claims' : 'begun'][index]
  const told = (must: MustRef): ProposedClash['turns'] => {
    const turn = turnOf(must)
    if (turn === undefined || must.kind === 'clock') return []
    const { person, shift, piece, place } = turn
    const id = turnId(date, shift, person)
    return [{ kind: must.kind, id, personId: person, shiftId: shift, pieceId: piece, placeId: place }]
  }
  // A clock that nobody can come to is said by itself, below.
  const clashes = clashesOf(problem, unmet)
    .map(({ musts, rules }) => ({ turns: musts.flatMap(told), rules }))
    .filter(({ turns }) => turns.length > 0)
  const clocks = unmet.flatMap(({ kind, index }) => {
    const clock = kind === 'clock' ? problem.clocks[index] : undefined
    if (!clock) return []
    const ids = { piece: clock.piece, shift: clock.shift, ...(clock.step === null ? {} : { step: clock.step }) }
    return [finding('O', 'clock-alone', { ...ids, at: timeOfMinute(clock.minute) })]
  })
  const named = new Set(clashes.flatMap(({ turns }) => turns.map(({ kind, id }) => `${kind} ${id}`)))
  const findings = unmet.flatMap(told).flatMap(({ kind, id, personId, pieceId, shiftId }) => {
    if (kind === 'begun' || named.has(`${kind} ${id}`)) return []
    const ids = { person: personId, piece: pieceId, shift: shiftId }
    return kind === 'hold'
      ? [finding('O', 'hold-missed', { ...ids, hold: id })]
      : [finding('O', 'claim-missed', { ...ids, claim: id })]
  })
  return { clashes, findings: [...findings, ...clocks] }
}
