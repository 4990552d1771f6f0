'use client'
// The force ceiling: set it with a reason, or open one stronger technique with a test patch and a reason. The gentlest
// technique that works is the right one, so both are written into the record and stay there.
import { useState } from 'react'
import type { RecordOf, TechniqueId } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { ActForm, Button, DialogButton, Notice, Select, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { ladderOf, momentOf, nameOf, type SheetAt, techniqueName } from './sheet-at.ts'

type CeilingProps = { readonly at: SheetAt; readonly specimen: RecordOf<'specimen'> }

/** The button and its sheet. */
export function CeilingButton({ at, specimen }: CeilingProps) {
  return (
    <DialogButton kind="quiet" word="Change…" label="Change the force ceiling" title="How gently" className="no-print">
      {(close) => <CeilingSheet at={at} specimen={specimen} onDone={close} />}
    </DialogButton>
  )
}

function CeilingSheet({ at, specimen, onDone }: CeilingProps & { readonly onDone: () => void }) {
  const [wish, setWish] = useState<'ceiling' | 'escalate'>('ceiling')
  return (
    <div className="flex flex-col gap-5">
      <Standing at={at} />
      <div className="flex flex-wrap gap-3">
        <Button aria-pressed={wish === 'ceiling'} onClick={() => setWish('ceiling')}>
          Set the ceiling
        </Button>
        <Button mark="escalate" aria-pressed={wish === 'escalate'} onClick={() => setWish('escalate')}>
          Go above it
        </Button>
      </div>
      {wish === 'ceiling' ? (
        <SetForm at={at} specimen={specimen} onDone={onDone} />
      ) : (
        <EscalateForm at={at} specimen={specimen} onDone={onDone} />
      )}
    </div>
  )
}

/** Escalations that stand, each with its way back. */
function Standing({ at }: { readonly at: SheetAt }) {
  const { attempt, problem } = useTry()
  const standing = at.sheet.escalations.filter((one) => one.endedAt === null)
  if (standing.length === 0) return null
  return (
    <ul>
      {standing.map((one) => (
        <li key={one.id} className="border-b border-line pb-2">
          <p>
            <b>{techniqueName(at, one.techniqueId)}</b> is open above the ceiling: {one.reason}
          </p>
          <p className="text-small text-umber">
            Test patch: {one.testPatch}. {nameOf(at, one.by)}, {momentOf(at, one.at)}
          </p>
          <Button onClick={() => attempt({ kind: 'endEscalation', escalationId: one.id })}>End it</Button>
        </li>
      ))}
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
    </ul>
  )
}

function SetForm({ at, specimen, onDone }: CeilingProps & { readonly onDone: () => void }) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [techniqueId, setTechnique] = useState<string>(specimen.forceCeiling)
  const [reason, setReason] = useState('')
  return (
    <ActForm
      act="Set it"
      problem={problem}
      isOff={reason.trim() === '' || techniqueId === specimen.forceCeiling}
      onAct={() => {
        const done = attempt({
          kind: 'setCeiling',
          pieceId: specimen.id,
          techniqueId: techniqueId as TechniqueId,
          reason: reason.trim(),
          entryId: newId(),
        })
        if (done) onDone()
      }}
    >
      <Select
        label="No stronger than"
        value={techniqueId}
        onValue={setTechnique}
        choices={ladderOf(at).map((one) => ({ value: one.id as string, label: one.name }))}
      />
      <TextField
        label="Reason"
        hint="Goes into the treatment record."
        value={reason}
        onChange={(event) => setReason(event.target.value)}
      />
    </ActForm>
  )
}

function EscalateForm({ at, specimen, onDone }: CeilingProps & { readonly onDone: () => void }) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const ladder = ladderOf(at)
  const top = ladder.findIndex((one) => one.id === specimen.forceCeiling)
  const above = ladder.slice(top + 1)
  const [techniqueId, setTechnique] = useState<string>(above[0]?.id ?? '')
  const [testPatch, setTestPatch] = useState('')
  const [reason, setReason] = useState('')
  if (above.length === 0) return <p className="named text-say">The ceiling is at the top of the ladder already.</p>
  return (
    <ActForm
      act="Open it"
      problem={problem}
      isOff={testPatch.trim() === '' || reason.trim() === ''}
      onAct={() => {
        const done = attempt({
          kind: 'escalate',
          escalationId: newId(),
          pieceId: specimen.id,
          techniqueId: techniqueId as TechniqueId,
          testPatch: testPatch.trim(),
          reason: reason.trim(),
          entryId: newId(),
        })
        if (done) onDone()
      }}
    >
      <Select
        label="Technique"
        value={techniqueId}
        onValue={setTechnique}
        choices={above.map((one) => ({ value: one.id as string, label: one.name }))}
      />
      <TextField
        label="Test patch"
        hint="Where it was made, and what it showed."
        value={testPatch}
        onChange={(event) => setTestPatch(event.target.value)}
      />
      <TextField
        label="Reason"
        hint="Both go into the treatment record and stay there."
        value={reason}
        onChange={(event) => setReason(event.target.value)}
      />
    </ActForm>
  )
}
