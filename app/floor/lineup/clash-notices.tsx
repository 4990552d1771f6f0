'use client'
// What could not be kept, each smallest set with its reason, and the holds to let go right beside it.
import type { ProposedClash } from '#lib/lineup'
import type { Records } from '#lib/words'
import { Button, Notice } from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { inked } from '../inked.tsx'
import { sayClash } from './say-clash.ts'

export type ClashNoticesProps = {
  readonly records: Records
  readonly clashes: readonly ProposedClash[]
  /** Called after a hold was let go. */
  readonly onWish: () => void
}

/** One notice for each set of turns that cannot all be. */
export function ClashNotices({ records, clashes, onWish }: ClashNoticesProps) {
  const { attempt, problem } = useTry()
  return clashes.map((clash) => (
    <Notice
      key={clash.turns.map(({ kind, id }) => `${kind} ${id}`).join(' ')}
      kind="error"
      mark="leftout"
      action={clash.turns
        .flatMap(({ id }) => records.hold.get(id) ?? [])
        .map((hold) => (
          <Button
            key={hold.id}
            onClick={() => {
              if (attempt({ kind: 'unhold', holdId: hold.id })) onWish()
            }}
          >
            Let go of {records.person.get(hold.personId)?.name ?? 'the hold'}
          </Button>
        ))}
    >
      <b>Could not be kept.</b> {inked(sayClash(records, clash))} {problem}
    </Notice>
  ))
}
