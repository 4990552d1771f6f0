'use client'
// A personal air sample as the laboratory gave it: what, how much, over which minutes, by which method.
import { useState } from 'react'
import { isOfCrew } from '#lib/rules'
import { publishedAgents, SILICA, sampledIn } from '#lib/views'
import type { PersonId, Records } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { ActForm, DialogButton, NumberField, Select, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'

type SampleFormProps = { readonly records: Records; readonly today: string }

/** The button and its form. */
export function SampleForm({ records, today }: SampleFormProps) {
  return (
    <DialogButton word="Keep a sample…" mark="add" title="Personal air sample">
      {(close) => <Form records={records} today={today} onDone={close} />}
    </DialogButton>
  )
}

function Form({ records, today, onDone }: SampleFormProps & { readonly onDone: () => void }) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const people = [...records.person.values()].filter(isOfCrew)
  const [personId, setPerson] = useState<string>('')
  const [agent, setAgent] = useState<string>(SILICA)
  const [date, setDate] = useState(today)
  const [amount, setAmount] = useState<number>()
  const [minutes, setMinutes] = useState<number>()
  const [method, setMethod] = useState('')
  const own = (records.lab.get('lab')?.airLimits ?? []).map((one) => one.agent)
  const agents = [...new Set([...publishedAgents, ...own])]
  const unit = sampledIn(agent)
  const isWhole = personId !== '' && amount !== undefined && minutes !== undefined && date !== ''
  const keep = () => {
    if (amount === undefined || minutes === undefined) return
    const of = {
      personId: personId as PersonId,
      date,
      agent,
      amount,
      unit,
      minutes: Math.round(minutes),
      method,
    } as const
    if (attempt({ kind: 'addSample', sample: { id: newId(), corrects: null, ...of } })) onDone()
  }
  return (
    <ActForm act="Keep it" problem={problem} isOff={!isWhole} onAct={keep}>
      <Select
        label="Of whom"
        value={personId}
        choices={[
          { value: '', label: 'Choose' },
          ...people.map(({ id, name }) => ({ value: id as string, label: name })),
        ]}
        onValue={setPerson}
      />
      <Select
        label="What"
        value={agent}
        choices={agents.map((value) => ({ value, label: value }))}
        onValue={setAgent}
      />
      <div className="grid gap-4 tablet:grid-cols-3">
        <TextField label="On" type="date" max={today} value={date} onChange={(event) => setDate(event.target.value)} />
        <NumberField label="Found" unit={unit} min={0} step={0.1} value={amount} onValue={setAmount} />
        <NumberField label="Over" unit="min" min={1} max={1440} step={1} value={minutes} onValue={setMinutes} />
      </div>
      <TextField
        label="Method and laboratory"
        maxLength={240}
        value={method}
        onChange={(event) => setMethod(event.target.value)}
      />
      <p className="text-umber">Only they, the managers and whoever looks after safety can read it.</p>
    </ActForm>
  )
}
