'use client'
// Limits in air of the lab's own, before the published ones of its jurisdiction: what, how much, by which text, entered by
// whom. Samples are held against them anew at once.
import { useState } from 'react'
import { airLimitOf, publishedAgents, SILICA, sampledIn } from '#lib/views'
import type { AirLimit } from '#lib/words'
import { useBoard, useNewId, useNow, useWho } from '../_board/index.ts'
import { ActForm, Button, DialogButton, NumberField, Row, Rows, Select, TextField } from '../_parts/controls/index.ts'
import { sayDate } from '../_text/index.ts'
import { sayBasis } from '../safety/say-air.ts'
import { Problem } from './problem.tsx'
import type { LabInHand } from './use-lab.ts'
import { useList } from './use-list.ts'

/** All of them, and one more. */
export function AirLimitsForm(hand: LabInHand) {
  const { all: limits, problem, keepAll, remove } = useList(hand, 'airLimits')
  const people = useBoard(({ person }) => person)
  const keep = (limit: AirLimit) => keepAll([...limits.filter(({ id }) => id !== limit.id), limit])
  const silica = airLimitOf(hand.lab, SILICA, 'limit', 'µg/m³')
  return (
    <div className="flex flex-col gap-3">
      <p className="text-umber">
        {silica === null
          ? 'No published limit for silica is in the table of this jurisdiction.'
          : `Silica is held against ${silica.amount} µg/m³ over 8 h, ${sayBasis(silica)}.`}{' '}
        A limit entered here comes before a published one. Local codes and the site’s safety officer decide.
      </p>
      {limits.length === 0 ? null : (
        <Rows label="Limits in air of the lab’s own">
          {limits.map((one) => (
            <Row
              key={one.id}
              height="list"
              note={`${one.title === '' ? 'no text named' : one.title}${one.date === undefined ? '' : `, from ${sayDate(one.date, 'full')}`}; entered by ${people.get(one.setBy)?.name ?? 'somebody'}, ${sayDate(one.setOn, 'full')}`}
              end={
                <>
                  <DialogButton
                    kind="quiet"
                    word="Change…"
                    label={`Change ${one.kind} of ${one.agent}`}
                    title="Limit in air"
                  >
                    {(close) => <LimitForm old={one} onKeep={keep} onDone={close} />}
                  </DialogButton>
                  <Button kind="quiet" label={`Remove ${one.kind} of ${one.agent}`} onClick={() => remove(one.id)}>
                    Remove
                  </Button>
                </>
              }
            >
              {one.agent}, {kinds[one.kind]} {one.amount} {one.unit}
            </Row>
          ))}
        </Rows>
      )}
      <Problem say={problem} />
      <DialogButton className="self-start" word="Add a limit…" mark="add" title="Limit in air">
        {(close) => <LimitForm old={null} onKeep={keep} onDone={close} />}
      </DialogButton>
    </div>
  )
}

const kinds = { limit: 'limit', action: 'action level' } as const

type LimitFormProps = {
  readonly old: AirLimit | null
  readonly onKeep: (limit: AirLimit) => string | undefined
  readonly onDone: () => void
}

function LimitForm({ old, onKeep, onDone }: LimitFormProps) {
  const newId = useNewId()
  const who = useWho()
  const { date: today } = useNow(60_000)
  const [agent, setAgent] = useState(old?.agent ?? SILICA)
  const [kind, setKind] = useState<AirLimit['kind']>(old?.kind ?? 'limit')
  const [amount, setAmount] = useState<number | undefined>(old?.amount)
  const [title, setTitle] = useState(old?.title ?? '')
  const [date, setDate] = useState(old?.date ?? '')
  const [problem, setProblem] = useState<string>()
  const name = agent.trim()
  const unit = sampledIn(name)
  const keep = () => {
    if (amount === undefined || who === null) return
    const from = date === '' ? {} : { date }
    const stamp = { setBy: who.personId, setOn: today }
    const said = onKeep({
      id: old?.id ?? newId(),
      agent: name,
      kind,
      amount,
      unit,
      title: title.trim(),
      ...from,
      ...stamp,
    })
    setProblem(said)
    if (said === undefined) onDone()
  }
  return (
    <ActForm act="Keep it" problem={problem} isOff={name === '' || !amount || amount <= 0} onAct={keep}>
      <TextField
        label="What"
        list="air-agents"
        maxLength={120}
        hint="As on its data sheet; samples are taken of it by this name."
        value={agent}
        onChange={(event) => setAgent(event.target.value)}
      />
      <datalist id="air-agents">
        {publishedAgents.map((one) => (
          <option key={one} value={one} />
        ))}
      </datalist>
      <div className="grid gap-4 tablet:grid-cols-2">
        <Select
          label="It is"
          value={kind}
          choices={[
            { value: 'limit', label: 'a limit, not to be passed' },
            { value: 'action', label: 'an action level' },
          ]}
          onValue={(value) => setKind(value === 'action' ? 'action' : 'limit')}
        />
        <NumberField label="Over 8 hours" unit={unit} min={0} step={0.1} value={amount} onValue={setAmount} />
        <TextField
          label="Text it stands in"
          maxLength={240}
          hint="Title and edition, as one would cite it."
          value={title}
          onChange={(event) => setTitle(event.target.value)}
        />
        <TextField label="It holds from" type="date" value={date} onChange={(event) => setDate(event.target.value)} />
      </div>
    </ActForm>
  )
}
