'use client'
// The cautions of the turn at hand. Unread ones stand open with one press to say that they were read; read ones fold away
// until something about them changes.
import { cautionMarks, unreadOf } from '#lib/views'
import type { RecordOf, Records } from '#lib/words'
import { Button, Fold, Row, Rows } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayDate } from '../_text/index.ts'
import { type AtWork, cautionsFor, ofPiece } from './cautions.ts'

type MindProps = { readonly records: Records; readonly turn: AtWork; readonly personId: string }

/** What to mind, and that one has read it. */
export function Mind({ records, turn, personId }: MindProps) {
  const { attempt, problem } = useTry()
  const cautions = cautionsFor(records, turn)
  const { piece } = turn
  const jacket = 'hazards' in piece ? piece : piece.jacketId === null ? undefined : records.jacket.get(piece.jacketId)
  const marks = cautionMarks(records, turn.technique, jacket?.hazards ?? [])
  const unread = unreadOf(records, personId, marks)
  if (cautions.length === 0) return null
  const own = cautions.filter(({ key }) => ofPiece.has(key))
  const usual = cautions.filter((one) => !own.includes(one))
  const rows = (list: typeof cautions, label: string) => (
    <Rows label={label}>
      {list.map((caution) => (
        <Row key={caution.key} lead={<Mark name={caution.mark} size={24} />} height="list">
          <span className="text-body">
            {caution.bold === undefined ? null : <strong className="font-strong">{caution.bold} </strong>}
            {caution.text}
          </span>
        </Row>
      ))}
    </Rows>
  )
  if (marks.length === 0) return rows(cautions, 'Mind')
  return (
    <>
      {own.length > 0 ? rows(own, 'Mind') : null}
      {unread.length > 0 ? (
        <>
          {rows(usual, 'Cautions')}
          <div className="pt-2">
            <Button mark="tick" onClick={() => attempt({ kind: 'acknowledge', seen: [...unread] })}>
              I have read these
            </Button>
            {problem === undefined ? null : <p role="alert">{problem}</p>}
          </div>
        </>
      ) : (
        <Fold title={`Cautions for this work, read on ${readOn(records, personId, marks)}`}>
          {rows(usual, 'Cautions')}
        </Fold>
      )}
    </>
  )
}

function readOn(records: Records, personId: string, marks: readonly { readonly key: string }[]): string {
  const seen = records.ack.get(personId as RecordOf<'ack'>['id'])?.seen ?? []
  const days = seen.filter(({ key }) => marks.some((mark) => mark.key === key)).map(({ on }) => on)
  return sayDate(days.sort().at(-1) ?? '', 'short')
}
