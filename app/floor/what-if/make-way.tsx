'use client'
// A wish for which others have to make way: what would change, in words, and one press that makes all of it
// everybody's. The gate judges the whole day, so an answer that has grown old changes nothing.
import { useMemo } from 'react'
import { useBoard } from '../../_board/index.ts'
import { Button, Dialog, Notice, Row, Rows } from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { capital } from '../../_text/amounts.ts'
import { count, few, plural } from '../words.ts'
import { sayEffects, sayLoss, sayWish, type Wanted } from './say-what-if.ts'
import { useWhatIf } from './use-what-if.ts'

export type MakeWayProps = {
  readonly date: string
  /** Null keeps the sheet away. */
  readonly turns: readonly Wanted[] | null
  readonly onClose: () => void
}

/** The sheet; on a posted day, for the manager. */
export function MakeWay({ date, turns, onClose }: MakeWayProps) {
  const records = useBoard((board) => board)
  const question = useMemo(() => (turns === null ? null : { date, turns }), [date, turns])
  const answer = useWhatIf(question)
  const { attempt, problem, clear } = useTry()
  const considered = answer?.state === 'yes' ? answer.considered : null
  const close = () => {
    clear()
    onClose()
  }
  const post = () => {
    if (!considered) return
    const isDone = attempt({
      kind: 'post',
      date,
      assignments: [...considered.assignments],
      note: records.day.get(date)?.note ?? '',
    })
    if (isDone) close()
  }
  const changes = considered?.changes.length ?? 0
  return (
    <Dialog
      isOpen={turns !== null}
      title={turns === null ? '' : sayWish(records, turns)}
      onClose={close}
      width="narrow"
      actions={
        considered ? (
          <Button kind="ink" onClick={post}>
            {`Post ${changes === 1 ? 'this change' : `these ${few(changes)} changes`}`}
          </Button>
        ) : undefined
      }
    >
      {considered && turns ? (
        <>
          <p className="named text-say" role="status">
            {sayEffectsHeading(considered.changes.length - turns.length)}{' '}
            {`${capital(sayLoss(considered.lossPerMille))}.`}
          </p>
          <Rows>
            {sayEffects(records, turns, considered).map((effect) => (
              <Row key={effect}>{capital(effect)}</Row>
            ))}
          </Rows>
        </>
      ) : (
        <p className="named text-say" role="status">
          {answer?.words}
        </p>
      )}
      {problem === undefined ? null : (
        <Notice kind="lost">
          <b>Not posted.</b> {problem}
        </Notice>
      )}
    </Dialog>
  )
}

const sayEffectsHeading = (others: number): string =>
  others <= 0 ? 'Nobody else moves.' : `${count(others)} ${plural(others, 'other makes', 'others make')} way.`
