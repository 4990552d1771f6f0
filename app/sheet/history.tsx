'use client'
// Who changed what: every kept act that touched this piece, newest first, asked of the server when somebody unfolds it.
// An act that this program no longer knows, or of which one may see only a part, is told by the records it changed.
import { useCallback, useState } from 'react'
import { parseOp } from '#lib/ops'
import { type Change, type Records, withChanges } from '#lib/words'
import { Button, FoldingSection, Notice, RowsComing } from '../_parts/controls/index.ts'
import { get } from '../_shell/http.ts'
import { sayList, sayOp } from '../_text/index.ts'
import { momentOf, nameOf, type SheetAt } from './sheet-at.ts'

type Item = {
  readonly seq: number
  readonly kind: string
  readonly at: string
  readonly personId: string | null
  readonly op: unknown
  readonly changes: readonly Change[]
}

type Page = { readonly items: readonly Item[]; readonly before: number | null }

type Shown =
  | { readonly state: 'folded' }
  | { readonly state: 'asking' }
  | { readonly state: 'failed' }
  | {
      readonly state: 'open'
      readonly items: readonly Item[]
      readonly before: number | null
      readonly isMore: boolean
    }

/** The history, folded until wanted. */
export function History({ at }: { readonly at: SheetAt }) {
  const [shown, setShown] = useState<Shown>({ state: 'folded' })
  const ask = useCallback(
    async (before: number | null, items: readonly Item[]) => {
      setShown(items.length === 0 ? { state: 'asking' } : { state: 'open', items, before, isMore: true })
      const from = before === null ? '' : `&before=${before}`
      const answer = await get<Page>(`/api/history?subject=${encodeURIComponent(at.sheet.id)}&limit=30${from}`)
      if (!answer.ok) return setShown({ state: 'failed' })
      const { body } = answer
      setShown({ state: 'open', items: [...items, ...body.items], before: body.before, isMore: false })
    },
    [at.sheet.id],
  )
  return (
    <FoldingSection
      id="history"
      title="History"
      brief="who changed what"
      aside="who changed what"
      className="no-print"
      onUnfold={() => shown.state === 'folded' && void ask(null, [])}
    >
      {shown.state === 'folded' ? (
        <Button kind="quiet" className="mt-1" onClick={() => void ask(null, [])}>
          Show it
        </Button>
      ) : shown.state === 'asking' ? (
        <RowsComing count={3} />
      ) : shown.state === 'failed' ? (
        <Notice kind="error" action={<Button onClick={() => void ask(null, [])}>Ask again</Button>}>
          The history is out of reach. Nothing of it is lost.
        </Notice>
      ) : shown.items.length === 0 ? (
        <Notice kind="empty">Nothing has been changed since it came in.</Notice>
      ) : (
        <>
          <ol aria-label="History, newest first">
            {shown.items.map((item) => (
              <li key={item.seq} className="border-b border-line py-1.5">
                <b>{item.personId === null ? 'The lab' : nameOf(at, item.personId)}</b> {sayItem(item, at.records)}
                <span className="block text-small text-umber">{momentOf(at, item.at)}</span>
              </li>
            ))}
          </ol>
          {shown.before === null ? null : (
            <Button kind="quiet" disabled={shown.isMore} onClick={() => void ask(shown.before, shown.items)}>
              Earlier
            </Button>
          )}
        </>
      )}
    </FoldingSection>
  )
}

/** One kept act in words. */
export function sayItem(item: Pick<Item, 'kind' | 'op' | 'changes'>, records: Records): string {
  const parsed = parseOp(item.op)
  // What the act itself brought in may be gone by now: its own records name what the board no longer can.
  const known = withChanges(
    records,
    item.changes.filter((change) => change.record !== null && !records[change.kind].has(change.id)),
  )
  if (parsed.op) return sayOp(parsed.op, known)
  const kinds = [...new Set(item.changes.map((change) => words[change.kind] ?? change.kind))]
  return kinds.length === 0 ? item.kind : `changed ${sayList(kinds)}`
}

const words: Partial<Readonly<Record<Change['kind'], string>>> = {
  specimen: 'the specimen',
  jacket: 'the jacket',
  step: 'a step',
  assignment: 'the line-up',
  work: 'work of the day',
  log: 'the record',
  entry: 'the record',
  due: 'a date',
  question: 'a question',
  watch: 'who follows it',
  escalation: 'an escalation',
  hold: 'a hold',
  forbid: 'a forbid',
  tally: 'hours',
  resting: 'the archive',
  day: 'the day',
}
