'use client'
// What one does with a piece: write into its record first; then follow it, put it somewhere, weigh it, open it, make a
// specimen from it, lay it to rest. Each role sees only what it may do; in one column what is not for the bench is folded.
import Link from 'next/link'
import { useId, useState } from 'react'
import { addressOf } from '../_parts/address.ts'
import { Button, buttonClass, DialogButton, Notice, useNarrow } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { EmptyForm, OpenForm, RestForm } from './jacket-forms.tsx'
import { ShelveForm, WeighForm } from './place-forms.tsx'
import type { SheetAt } from './sheet-at.ts'
import { WriteForm } from './write-form.tsx'

/** The buttons of this piece for this person. */
export function Acts({ at, mayBringBack }: { readonly at: SheetAt; readonly mayBringBack: boolean }) {
  const { attempt, problem } = useTry()
  const { sheet } = at
  const { jacket } = sheet
  const isNarrow = useNarrow()
  const [isMore, setMore] = useState(false)
  const others = useId()
  const isMyTurn = sheet.today.some((turn) => turn.personId === at.me && turn.when !== 'over')
  return (
    <div className="no-print">
      <div className="flex flex-wrap gap-2.5">
        {at.mayWrite ? (
          <DialogButton kind="ink" mark="note" word="Add to record" title="Add to the treatment record">
            {(close) => <WriteForm at={at} onDone={close} />}
          </DialogButton>
        ) : null}
        {at.isStaff && jacket && jacket.state !== 'empty' ? (
          // One sheet for both, so that it stays open when the jacket is, and offers the first specimen.
          <DialogButton
            mark={jacket.state === 'sealed' ? 'openjacket' : 'specimen'}
            word={jacket.state === 'sealed' ? 'Open the jacket…' : 'Make a specimen…'}
            title={jacket.state === 'sealed' ? `Open ${sheet.number}` : `A specimen from ${sheet.number}`}
          >
            {(close) => <OpenForm at={at} jacket={jacket} onDone={close} />}
          </DialogButton>
        ) : null}
        {isMyTurn ? (
          <Link className={buttonClass('line')} href="/mine">
            My shift: start, finish
          </Link>
        ) : null}
        {mayBringBack ? (
          <Button kind="ink" mark="undo" onClick={() => attempt({ kind: 'bringBack', pieceId: sheet.id })}>
            Bring it back to the board
          </Button>
        ) : null}
        {isNarrow ? (
          <Button kind="quiet" aria-expanded={isMore} aria-controls={others} onClick={() => setMore(!isMore)}>
            {isMore ? 'Less' : 'More to do'}
          </Button>
        ) : null}
        <div id={others} className={isNarrow && !isMore ? 'folded' : 'contents'}>
          {at.mayWrite ? (
            <DialogButton mark="rack" word="Move or shelve…" title={`Where does ${sheet.number} go`} width="narrow">
              {(close) => <ShelveForm at={at} onDone={close} />}
            </DialogButton>
          ) : null}
          {at.isStaff ? (
            <DialogButton mark="lift" word="Weigh…" title={`Weigh ${sheet.number}`} width="narrow">
              {(close) => <WeighForm at={at} onDone={close} />}
            </DialogButton>
          ) : null}
          <Follow at={at} attempt={attempt} />
          <Button mark="print" onClick={() => window.print()}>
            Print
          </Button>
          <a className={buttonClass('line')} href={addressOf(`/api/out/records.pdf?ids=${sheet.id}`)} download>
            PDF
          </a>
          {at.mayWrite && !at.isResting ? (
            <Link className={buttonClass('line')} href={`/labels?ids=${sheet.id}`}>
              Label
            </Link>
          ) : null}
          {at.isStaff && jacket?.state === 'opened' ? (
            <DialogButton kind="quiet" word="It is empty…" title={`${sheet.number} is empty`} width="narrow">
              {(close) => <EmptyForm at={at} onDone={close} />}
            </DialogButton>
          ) : null}
          {at.isStaff ? (
            <DialogButton kind="quiet" word="Lay to rest…" title={`Lay ${sheet.number} to rest`} width="narrow">
              {(close) => <RestForm at={at} onDone={close} />}
            </DialogButton>
          ) : null}
        </div>
      </div>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
    </div>
  )
}

/** Follow and no longer, with how many do. */
function Follow({ at, attempt }: { readonly at: SheetAt; readonly attempt: ReturnType<typeof useTry>['attempt'] }) {
  const { watcherIds, id } = at.sheet
  if (at.isResting || at.role === 'wall') return null
  const isFollowing = at.me !== null && watcherIds.includes(at.me)
  const others = watcherIds.length - (isFollowing ? 1 : 0)
  const more =
    others === 0 ? '' : isFollowing ? `, with ${others} more` : `, as ${others} ${others === 1 ? 'does' : 'do'}`
  return (
    <Button
      aria-pressed={isFollowing}
      onClick={() => attempt({ kind: isFollowing ? 'unwatch' : 'watch', pieceId: id })}
    >
      {isFollowing ? 'Following' : 'Follow'}
      {more}
    </Button>
  )
}
