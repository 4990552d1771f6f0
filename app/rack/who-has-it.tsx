'use client'
// Who has a piece in the shift one looks at, and for staff the way to bring a claim back: somebody who went home with a
// piece in their name must not keep it from the others.
import type { RecordOf, Records } from '#lib/words'
import { useWho } from '../_board/index.ts'
import { Button, Notice } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { namesIn } from '../_text/index.ts'

type WhoHasItProps = { readonly records: Records; readonly turns: readonly RecordOf<'assignment'>[] }

/** One line for each who has it; nothing when it is free. */
export function WhoHasIt({ records, turns }: WhoHasItProps) {
  const role = useWho()?.role
  const { attempt, problem } = useTry()
  if (turns.length === 0) return null
  const say = namesIn(records)
  const isStaff = role === 'manager' || role === 'preparator'
  return (
    <>
      {turns.map((turn) => {
        const name = say.person(turn.personId)
        const isClaim = turn.how === 'claimed'
        return (
          <p key={turn.id} className="flex flex-wrap items-center gap-x-2 text-small">
            <Mark name={isClaim ? 'claim' : 'person'} size={18} className="flex-none" />
            <span>
              <strong className="font-strong">{name}</strong> {isClaim ? 'claimed it' : 'has it'},{' '}
              {say.place(turn.placeId)}
            </span>
            {isStaff && isClaim ? (
              <Button
                kind="quiet"
                className="relative z-[1]"
                aria-label={`Bring back what ${name} claimed`}
                onClick={() => attempt({ kind: 'unseat', assignmentId: turn.id })}
              >
                Bring it back
              </Button>
            ) : null}
          </p>
        )
      })}
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
    </>
  )
}
