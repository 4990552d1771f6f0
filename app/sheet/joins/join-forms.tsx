'use client'
// Making a join: dry to see, or glued with what, and when it has cured. A glued join that would lock a loose fragment
// out says so first.
import { useState } from 'react'
import { lockedOutBy } from '#lib/joins'
import { askedOfUse, pairKey } from '#lib/rules'
import type { FragmentPair } from '#lib/words'
import { useNewId } from '../../_board/index.ts'
import { ActForm, Button, DialogButton, Notice, TextField } from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { sayList } from '../../_text/index.ts'
import { Asked } from '../../batches/asked.tsx'
import { ChooseBatch } from '../../batches/choose-batch.tsx'
import type { SheetAt } from '../sheet-at.ts'
import type { Tray } from './use-tray.ts'

type Props = { readonly at: SheetAt; readonly tray: Tray; readonly pair: FragmentPair }

/** How a pair that fits is held, and what can be done about it. */
export function JoinActs({ at, tray, pair }: Props) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const join = tray.joins.get(pairKey(pair))
  const isHeld = join !== undefined && join.state !== 'undone'
  const body = { kind: 'joinPair', pieceId: at.sheet.id, pair: [pair[0], pair[1]] as [number, number] } as const
  const plain = { adhesive: '', batchId: null, curedAt: null }
  return (
    <div className="flex flex-wrap items-center gap-2">
      {isHeld ? null : (
        <Button onClick={() => attempt({ ...body, ...plain, joinId: newId(), state: 'trial' })}>Hold dry</Button>
      )}
      {join?.state === 'glued' ? null : (
        <DialogButton word="Glue…" label={`Glue ${pair[0]} and ${pair[1]}`} title={`Glue ${pair[0]} and ${pair[1]}`}>
          {(close) => <GlueForm at={at} tray={tray} pair={pair} onDone={close} />}
        </DialogButton>
      )}
      {isHeld ? (
        <Button kind="quiet" onClick={() => attempt({ ...body, ...plain, joinId: newId(), state: 'undone' })}>
          Take apart
        </Button>
      ) : null}
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
    </div>
  )
}

function GlueForm({ at, tray, pair, onDone }: Props & { readonly onDone: () => void }) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [adhesive, setAdhesive] = useState('')
  const [batchId, setBatch] = useState('')
  const [despite, setDespite] = useState('')
  const [date, setDate] = useState('')
  const [time, setTime] = useState('')
  const asked =
    batchId === '' ? [] : askedOfUse(at.records, { pieceId: at.sheet.id, batchId, isSoakedIn: false, on: at.today })
  const locked = lockedOutBy(tray.fragments, tray.fits, tray.glued, pair)
  return (
    <ActForm
      act="Glued"
      problem={problem}
      isOff={(date === '') !== (time === '') || (asked.length > 0 && despite.trim() === '')}
      onAct={() => {
        const done = attempt({
          ...{ kind: 'joinPair', joinId: newId(), pieceId: at.sheet.id, pair: [pair[0], pair[1]], state: 'glued' },
          ...{ adhesive: batchId === '' ? adhesive : '', batchId: batchId === '' ? null : batchId },
          ...(asked.length > 0 && { despite: despite.trim() }),
          ...{ curedAt: date === '' ? null : { date, time } },
        })
        if (done) onDone()
      }}
    >
      {locked.length === 0 ? null : (
        <Notice kind="plain" mark="caution">
          Glued now, this would lock out {sayList(locked.map(String))}. Put {locked.length === 1 ? 'it' : 'them'} in
          first.
        </Notice>
      )}
      <ChooseBatch
        records={at.records}
        of={['resin', 'adhesive']}
        value={batchId}
        none="no batch of the lab"
        onValue={setBatch}
      />
      {batchId === '' ? (
        <TextField label="Adhesive" value={adhesive} onChange={(event) => setAdhesive(event.target.value)} />
      ) : null}
      <Asked records={at.records} asked={asked} despite={despite} onDespite={setDespite} />
      <div className="grid grid-cols-2 gap-4">
        <TextField label="Cured on" type="date" value={date} onChange={(event) => setDate(event.target.value)} />
        <TextField label="at" type="time" value={time} onChange={(event) => setTime(event.target.value)} />
      </div>
    </ActForm>
  )
}
