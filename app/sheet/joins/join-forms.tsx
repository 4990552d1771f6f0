'use client'
// Making a join: dry to see, or glued with what, and when it has cured. A glued join that would lock a loose fragment
// out says so first.
import { useState } from 'react'
import { timeOfMinute } from '#lib/base'
import { lockedOutBy } from '#lib/joins'
import { askedOfUse, pairKey } from '#lib/rules'
import type { FragmentPair } from '#lib/words'
import { useNewId, useNow } from '../../_board/index.ts'
import { ActForm, Button, DialogButton, Notice, NumberField, TextField } from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { sayList } from '../../_text/index.ts'
import { Asked } from '../../batches/asked.tsx'
import { ChooseBatch } from '../../batches/choose-batch.tsx'
import { EndFields, isLabTime, isTended } from '../../clocks/end-fields.tsx'
import { endToOffer } from '../../clocks/plan.ts'
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
    <div className="no-print flex flex-wrap items-center gap-2">
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
  const now = useNow(60_000)
  const [hours, setHours] = useState<number | undefined>()
  const [typed, setTyped] = useState<{ date: string; time: string } | null>(null)
  const begun = { date: now.date, time: timeOfMinute(now.minute) }
  const ends =
    hours === undefined || hours === 0
      ? null
      : (typed ?? endToOffer(at.records, null, 'curing', begun, Math.round(hours * 60)))
  const isAlone = ends !== null && !isTended(at.records, null, ends)
  const asked =
    batchId === '' ? [] : askedOfUse(at.records, { pieceId: at.sheet.id, batchId, isSoakedIn: false, on: at.today })
  const locked = lockedOutBy(tray.fragments, tray.fits, tray.glued, pair)
  return (
    <ActForm
      act="Glued"
      problem={problem}
      isOff={(ends !== null && !isLabTime(ends)) || ((asked.length > 0 || isAlone) && despite.trim() === '')}
      onAct={() => {
        const done = attempt({
          ...{ kind: 'joinPair', joinId: newId(), pieceId: at.sheet.id, pair: [pair[0], pair[1]], state: 'glued' },
          ...{ adhesive: batchId === '' ? adhesive : '', batchId: batchId === '' ? null : batchId },
          ...((asked.length > 0 || isAlone) && { despite: despite.trim() }),
          ...{ curedAt: ends },
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
      <NumberField label="Cures for" unit="h" min={0} step="any" value={hours} onValue={setHours} />
      {ends === null ? null : (
        <EndFields
          records={at.records}
          techniqueId={null}
          label="Cured"
          today={now.date}
          value={ends}
          onValue={setTyped}
          despite={despite}
          onDespite={setDespite}
        />
      )}
    </ActForm>
  )
}
