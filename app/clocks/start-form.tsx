'use client'
// Beginning something that ends by itself: what, for how long, until when, and what comes after it. The end offered is one
// at which somebody who may see to it is in.
import { useState } from 'react'
import { timeOfMinute } from '#lib/base'
import { openSteps } from '#lib/views'
import { type PieceId, type Process, processes, type Records } from '#lib/words'
import { useNewId, useNow } from '../_board/index.ts'
import { ActForm, NumberField, Select, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { capital, sayLasting } from '../_text/index.ts'
import { EndFields, isLabTime, isTended } from './end-fields.tsx'
import { chainAfter, endToOffer, usualMinutes } from './plan.ts'

type StartFormProps = { readonly records: Records; readonly pieceId: PieceId; readonly onDone: () => void }

const usualOf = (tank: boolean): Process => (tank ? 'acid bath' : 'drying')

/** The form; begun at this minute. */
export function StartForm({ records, pieceId, onDone }: StartFormProps) {
  const newId = useNewId()
  const now = useNow(60_000)
  const { attempt, problem } = useTry()
  const steps = openSteps(records, pieceId)
  const techniques = records.lab.get('lab')?.techniques ?? []
  const isAcid = (id: string | null) => techniques.find((one) => one.id === id)?.needs.includes('acid tank') === true
  const first = steps.find(({ techniqueId }) => isAcid(techniqueId)) ?? steps[0]
  const [stepId, setStep] = useState<string>(first?.id ?? '')
  const step = steps.find(({ id }) => id === stepId)
  const techniqueId = step?.techniqueId ?? null
  const [what, setWhat] = useState<Process>(usualOf(isAcid(techniqueId)))
  const [about, setAbout] = useState('')
  const [hours, setHours] = useState<number | undefined>(usualMinutes[what] / 60)
  const [typed, setTyped] = useState<{ date: string; time: string } | null>(null)
  const [despite, setDespite] = useState('')
  const [hasMore, setMore] = useState(true)
  const begun = { date: now.date, time: timeOfMinute(now.minute) }
  const minutes = Math.round((hours ?? 0) * 60)
  const ends = typed ?? endToOffer(records, techniqueId, what, begun, minutes)
  const chain = chainAfter(what, minutes)
  const isGood = isLabTime(ends) && (isTended(records, techniqueId, ends) || despite.trim() !== '')
  return (
    <ActForm
      act="Begin it"
      problem={problem}
      isOff={!isGood}
      onAct={() => {
        const clock = {
          ...{ id: newId(), pieceId, stepId: step?.id ?? null, techniqueId, what, about: about.trim(), begun, ends },
          despite: isTended(records, techniqueId, ends) ? '' : despite.trim(),
          next: hasMore ? [...chain] : [],
        }
        if (attempt({ kind: 'startClock', clock })) onDone()
      }}
    >
      <Select
        label="What"
        value={what}
        onValue={(value) => {
          const chosen = processes.find((one) => one === value) ?? 'drying'
          setWhat(chosen)
          setHours(usualMinutes[chosen] / 60)
          setTyped(null)
        }}
        choices={processes.map((one) => ({ value: one, label: capital(one) }))}
      />
      <Select
        label="For which step"
        hint="Whoever may do the step alone may see to its end."
        value={step ? stepId : ''}
        onValue={(value) => {
          setStep(value)
          setTyped(null)
        }}
        choices={[
          ...steps.map((one) => ({ value: one.id as string, label: one.title })),
          { value: '', label: 'none: whoever is in sees to it' },
        ]}
      />
      <div className="grid gap-4 tablet:grid-cols-2">
        <NumberField
          label="For"
          unit="h"
          min={0}
          step="any"
          value={hours}
          onValue={(value) => {
            setHours(value)
            setTyped(null)
          }}
        />
        <TextField
          label="Which part, or in what"
          maxLength={240}
          value={about}
          onChange={(event) => setAbout(event.target.value)}
        />
      </div>
      <EndFields
        {...{ records, techniqueId, despite }}
        label="Ends"
        today={now.date}
        value={ends}
        onValue={setTyped}
        onDespite={setDespite}
      />
      {chain.length === 0 ? null : (
        <Select
          label="And then"
          value={hasMore ? 'chain' : ''}
          onValue={(value) => setMore(value === 'chain')}
          choices={[
            {
              value: 'chain',
              label: chain.map((one) => `${one.what} ${sayLasting(one.minutes)}`).join(', then '),
            },
            { value: '', label: 'nothing' },
          ]}
        />
      )}
    </ActForm>
  )
}
