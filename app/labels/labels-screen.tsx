'use client'
// Which pieces or bottles, which size, print. What is asked for in the address is chosen already.
import { useSearchParams } from 'next/navigation'
import { useEffect, useState } from 'react'
import { batchesInUse } from '#lib/rules'
import { useBoard, useWho } from '../_board/index.ts'
import { originHere } from '../_parts/address.ts'
import { Button, Notice, PageHeading, RowsComing, Select } from '../_parts/controls/index.ts'
import { ChoosePiece } from '../_shell/choose-piece.tsx'
import { numberBatch } from '../_text/index.ts'
import { LabelView } from './label-view.tsx'
import { batchLabel, type Label, type LabelForm, labelForms, pieceLabel } from './what.ts'
import './labels.css'

/** The screen. */
export function LabelsScreen() {
  const asked = useSearchParams()
  const who = useWho()
  const records = useBoard((board) => board)
  const batch = asked.get('batch')
  const [form, setForm] = useState<LabelForm>(batch === null ? 'jacket' : 'bottle')
  const [chosen, setChosen] = useState<readonly string[]>(() =>
    (batch ?? asked.get('ids') ?? '').split(',').filter(Boolean),
  )
  // Known in the browser alone.
  const [origin, setOrigin] = useState('')
  useEffect(() => setOrigin(originHere()), [])
  if (who === null || origin === '' || !records.lab.has('lab'))
    return (
      <div className="margin-page">
        <PageHeading title="Labels" />
        <RowsComing />
      </div>
    )
  const isBottle = form === 'bottle'
  const labels = chosen.flatMap((id): readonly Label[] => {
    const label = isBottle ? batchLabel(records, id) : pieceLabel(records, id)
    return label ? [label] : []
  })
  const take = (id: string) => setChosen((before) => (before.includes(id) ? before : [...before, id]))
  return (
    <>
      <div className="no-print margin-page mx-auto flex max-w-4xl flex-col gap-4 pb-6">
        <PageHeading
          title="Labels"
          actions={
            <Button kind="ink" mark="print" disabled={labels.length === 0} onClick={() => window.print()}>
              Print
            </Button>
          }
        />
        <div className="grid grid-cols-1 items-start gap-4 tablet:grid-cols-2">
          <Select
            label="For"
            value={form}
            choices={Object.entries(labelForms).map(([value, { word, widthMm, heightMm }]) => ({
              ...{ value, label: `${word}, ${widthMm} × ${heightMm} mm` },
            }))}
            onValue={(value) => setForm(value as LabelForm)}
          />
          {isBottle ? (
            <Select
              label="Which bottle"
              value=""
              choices={[
                { value: '', label: 'choose' },
                ...batchesInUse(records).map((one) => ({ value: one.id as string, label: numberBatch(one.number) })),
              ]}
              onValue={take}
            />
          ) : (
            // Beside the field whose name stands above it.
            <div className="tablet:pt-6">
              <ChoosePiece records={records} onTake={take} />
            </div>
          )}
        </div>
        <p className="text-umber">
          Each code opens the {isBottle ? 'bottle' : 'piece'} here on whatever reads it. Print at 100 %, on labels of
          this size or on paper to be cut.
        </p>
        {/^https?:\/\/(localhost|127\.|\[::1\])/.test(origin) ? (
          <Notice kind="stale">
            These codes would lead to this machine alone. Open Talus by the name that phones find it under, and print
            there.
          </Notice>
        ) : null}
        {labels.length === 0 ? <Notice kind="empty">Nothing is chosen yet.</Notice> : null}
        {labels.length > 0 ? (
          <Button kind="quiet" className="self-start" onClick={() => setChosen([])}>
            Choose anew
          </Button>
        ) : null}
      </div>
      {labels.length === 0 ? null : (
        <ol
          className="labels mx-auto max-w-4xl max-tablet:px-4 tablet:px-6 print:max-w-none print:p-0"
          aria-label="Labels"
        >
          {labels.map((label) => (
            <LabelView key={label.id} label={label} form={form} origin={origin} />
          ))}
        </ol>
      )}
    </>
  )
}
