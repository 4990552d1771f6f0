'use client'
// Where a piece stands: the path of its stages with the day each was reached, and the move to another. A jacket has a
// short path of its own: sealed, opened, empty.
import { useState } from 'react'
import { localAt } from '#lib/base'
import { stagePathOf } from '#lib/views'
import type { RecordOf, Stage } from '#lib/words'
import { useNewId, useSheet } from '../_board/index.ts'
import { ActForm, DialogButton, FoldingSection, Select, TextArea } from '../_parts/controls/index.ts'
import { StagePath, type StagePathStep } from '../_parts/figures/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { capital, sayDate, sayStage, stages } from '../_text/index.ts'
import type { SheetAt } from './sheet-at.ts'

/** The path, for whichever kind of piece. */
export function StageSection({ at }: { readonly at: SheetAt }) {
  const { specimen, jacket } = at.sheet
  if (specimen) return <SpecimenPath at={at} specimen={specimen} />
  return jacket ? <JacketPath at={at} jacket={jacket} /> : null
}

function SpecimenPath({ at, specimen }: { readonly at: SheetAt; readonly specimen: RecordOf<'specimen'> }) {
  const { entries } = useSheet(specimen.id)
  const path = stagePathOf(specimen, entries, at.sheet.from?.collectedOn ?? null)
  const steps = path.map(({ stage, state, reached }): StagePathStep => {
    const day = reached === null ? undefined : dayOf(reached, at.zone)
    return {
      stage,
      word: stage,
      state,
      note: day === undefined ? undefined : state === 'now' ? `since ${briefly(day)}` : briefly(day),
    }
  })
  return (
    <FoldingSection id="stage" title="Stage" brief={specimen.stage} className="sheet-stage">
      <StagePath seed={specimen.id} steps={steps} lengthM={specimen.lengthM} widthM={specimen.widthM} />
      <div className="flex flex-wrap items-center justify-between gap-3">
        <p className="named text-say">{sayStage(specimen.stage)}</p>
        {at.isStaff ? <MoveStage at={at} specimen={specimen} /> : null}
      </div>
    </FoldingSection>
  )
}

/** An instant or a local date as a local date. */
function dayOf(reached: string, zone: string): string {
  return reached.length === 10 ? reached : localAt(zone, Date.parse(reached)).date
}

/** 14 Jan 26. */
const briefly = (date: string): string => `${sayDate(date, 'brief').slice(4)} ${date.slice(2, 4)}`

function MoveStage({ at, specimen }: { readonly at: SheetAt; readonly specimen: RecordOf<'specimen'> }) {
  return (
    <DialogButton word="Move stage…" title="Move to another stage" className="no-print">
      {(close) => <MoveForm at={at} specimen={specimen} onDone={close} />}
    </DialogButton>
  )
}

function MoveForm({ specimen, onDone }: MoveProps) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const next = stages[Math.min(stages.length - 1, stages.indexOf(specimen.stage) + 1)] ?? specimen.stage
  const [stage, setStage] = useState<Stage>(next)
  const [note, setNote] = useState('')
  return (
    <ActForm
      act={`Move to ${stage}`}
      problem={problem}
      isOff={stage === specimen.stage}
      onAct={() => {
        const done = attempt({ kind: 'moveStage', pieceId: specimen.id, stage, note: note.trim(), entryId: newId() })
        if (done) onDone()
      }}
    >
      <Select
        label="Stage"
        value={stage}
        onValue={(value) => setStage(stages.find((one) => one === value) ?? stage)}
        choices={stages.map((one) => ({
          value: one,
          label: one === specimen.stage ? `${capital(one)}, as it is` : capital(one),
          isOff: one === specimen.stage,
        }))}
        hint={sayStage(stage)}
      />
      <TextArea
        label="What was seen or decided"
        hint="May stay empty; goes into the treatment record with the move."
        value={note}
        onChange={(event) => setNote(event.target.value)}
      />
    </ActForm>
  )
}

type MoveProps = { readonly at: SheetAt; readonly specimen: RecordOf<'specimen'>; readonly onDone: () => void }

const jacketStates = ['sealed', 'opened', 'empty'] as const

function JacketPath({ at, jacket }: { readonly at: SheetAt; readonly jacket: RecordOf<'jacket'> }) {
  const now = jacketStates.indexOf(jacket.state)
  const steps = jacketStates.map((word, index): StagePathStep => {
    const collected = word === 'sealed' ? jacket.collectedOn : null
    return {
      stage: word === 'empty' ? 'released' : word,
      word,
      state: index < now ? 'done' : index === now ? 'now' : 'ahead',
      note: collected === null ? undefined : `collected ${briefly(collected)}`,
    }
  })
  return (
    <FoldingSection id="stage" title="Stage" brief={jacket.state} className="sheet-jacket-path">
      <StagePath seed={jacket.id} steps={steps} lengthM={jacket.lengthM} widthM={jacket.widthM} />
      {at.sheet.specimens.length > 0 || jacket.state !== 'opened' ? null : (
        <p className="named text-say">Opened, and nothing is taken out of it yet.</p>
      )}
    </FoldingSection>
  )
}
