'use client'
// Checks before use that are due, overdue or found a fault, with the two presses that answer them.
import { type ReactNode, useState } from 'react'
import { checkDueOn, checksOpen } from '#lib/rules'
import type { RecordOf, Records, ShiftId } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { ActForm, Button, DialogButton, Row, Rows, TextField } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayDay } from '../_text/index.ts'

export type CheckRowsProps = {
  readonly records: Records
  readonly now: { readonly date: string; readonly minute: number }
  readonly shiftId: ShiftId | null
  /** Only what belongs to this place, and to the whole room. */
  readonly placeId?: string
}

const words = { due: 'Due before use', overdue: 'Overdue', fault: 'Fault found' } as const

/** The rows; nothing at all when everything is good. */
export function CheckRows({ records, now, shiftId, placeId }: CheckRowsProps) {
  const open = checksOpen(records, now, placeId)
  if (open.length === 0) return null
  return (
    <Rows label="Checks before use">
      {open.map(({ check, state }) => (
        <Row key={check.id} lead={<Mark name={state === 'due' ? 'clock' : 'caution'} size={24} />} height="list">
          <WithActs
            note={`${whereOf(records, check)}${sinceOf(records, check, state, now.date)}`}
            acts={<CheckActs check={check} shiftId={shiftId} />}
          >
            <strong className="font-strong">{words[state]}:</strong> {check.name}
          </WithActs>
        </Row>
      ))}
    </Rows>
  )
}

/** Words with what can be pressed: beside them where there is room, beneath them on a phone. */
export function WithActs({ children, note, acts }: WithActsProps) {
  return (
    <span className="flex flex-wrap items-center justify-between gap-x-3 gap-y-1 py-1">
      <span className="min-w-48 flex-1">
        <span className="block">{children}</span>
        <span className="block text-small text-umber">{note}</span>
      </span>
      <span className="flex flex-wrap gap-2">{acts}</span>
    </span>
  )
}

type WithActsProps = { readonly children: ReactNode; readonly note: string; readonly acts: ReactNode }

function whereOf(records: Records, check: RecordOf<'check'>): string {
  return check.placeId === null ? 'The whole room' : (records.place.get(check.placeId)?.code ?? '')
}

function sinceOf(
  records: Records,
  check: RecordOf<'check'>,
  state: 'due' | 'overdue' | 'fault',
  today: string,
): string {
  const { last } = check
  const by = last && records.person.get(last.by)?.name
  if (state === 'fault') return last?.note ? `. ${last.note}` : ''
  const offered = state === 'overdue' && check.placeId !== null ? '. No line-up offers the place until it is done' : ''
  if (last) return `. Last done ${sayDay(last.date, today)} by ${by ?? 'somebody'}${offered}`
  return `. Not done yet, due ${sayDay(checkDueOn(records, check), today)}${offered}`
}

/** Good with one press; a fault asks what it is. */
export function CheckActs({ check, shiftId }: { readonly check: RecordOf<'check'>; readonly shiftId: ShiftId | null }) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const did = (result: 'good' | 'fault', note: string) =>
    attempt({ kind: 'doCheck', doneId: newId(), checkId: check.id, shiftId, result, note })
  return (
    <>
      <Button mark="tick" label={`${check.name}: checked, good`} onClick={() => did('good', '')}>
        Checked, good
      </Button>
      <DialogButton kind="quiet" word="Fault…" label={`${check.name}: a fault`} title={`A fault at ${check.name}`}>
        {(close) => <FaultForm check={check} onDone={(note) => did('fault', note) && close()} problem={problem} />}
      </DialogButton>
    </>
  )
}

function FaultForm({
  check,
  onDone,
  problem,
}: {
  readonly check: RecordOf<'check'>
  readonly onDone: (note: string) => void
  readonly problem: string | undefined
}) {
  const [note, setNote] = useState('')
  return (
    <ActForm act="Note the fault" problem={problem} isOff={note.trim() === ''} onAct={() => onDone(note.trim())}>
      <p className="text-umber">
        Stop using it, and tell whoever looks after safety.
        {check.placeId === null ? '' : ' No line-up offers the place until the check is good again.'}
      </p>
      <TextField label="What is wrong" maxLength={240} value={note} onChange={(event) => setNote(event.target.value)} />
    </ActForm>
  )
}
