'use client'
// Under the ladder: the gentlest technique known to move this piece's rock, what was tried in vain, and whom to ask
// before going above the ceiling.
import { presenceOf } from '#lib/rules'
import { gentlestOf, type MyTurn, triedOn } from '#lib/views'
import type { Records } from '#lib/words'
import { useSheet } from '../_board/index.ts'
import { sayList } from '../_text/index.ts'

type TriedProps = { readonly records: Records; readonly turn: MyTurn }

/** The words; nothing about trying where nobody has said anything yet. */
export function TriedWords({ records, turn }: TriedProps) {
  const { logs, entries } = useSheet(turn.piece.id)
  const tried = triedOn(records.lab.get('lab')?.techniques ?? [], logs, entries)
  const gentlest = gentlestOf(tried)
  const inVain = tried.filter((one) => !one.movedRock).map((one) => one.technique.name.toLowerCase())
  const { date, shiftId } = turn.assignment
  const staff = [...records.person.values()].filter(
    (one) =>
      one.isActive &&
      (one.role === 'preparator' || one.role === 'manager') &&
      presenceOf(records, one, date, shiftId).isIn,
  )
  const whom = staff.length === 0 ? 'a preparator; none is in this shift' : sayList(staff.map((one) => one.name))
  return (
    <p className="pt-1 text-small">
      {gentlest === null ? '' : `Begin with ${gentlest.name.toLowerCase()}: the gentlest that moved this rock. `}
      {inVain.length === 0 ? '' : `Did not move it: ${sayList(inVain)}. `}
      Above the ceiling only after a test patch: ask {whom}.
    </p>
  )
}
