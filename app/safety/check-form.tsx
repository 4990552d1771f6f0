'use client'
// Which checks the lab has, and the form of one: what, where, how often.
import { useState } from 'react'
import { type CheckNow, checkState } from '#lib/rules'
import { type RecordOf, type Records, Check as Words } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import {
  ActForm,
  Button,
  DialogButton,
  Fold,
  NumberField,
  Row,
  Rows,
  Select,
  TextField,
} from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayCount, sayDay } from '../_text/index.ts'
import { CheckActs, WithActs } from './check-rows.tsx'

type DefinitionsProps = {
  readonly records: Records
  readonly now: CheckNow
  readonly mayChange: boolean
}

/** All checks in use. */
export function CheckDefinitions({ records, now, mayChange }: DefinitionsProps) {
  const today = now.date
  const checks = [...records.check.values()].filter(({ isActive }) => isActive)
  return (
    <>
      {checks.length === 0 ? (
        <p>No checks are set up yet.</p>
      ) : (
        <>
          {checks.every((check) => checkState(records, check, now) === 'good') ? <p>No check is due now.</p> : null}
          <Fold title={`All checks of the lab, ${checks.length}`}>
            <Rows label="Checks of the lab">
              {checks.map((check) => (
                <Row key={check.id} height="list">
                  <WithActs
                    note={[
                      check.placeId === null ? 'the whole room' : (records.place.get(check.placeId)?.code ?? ''),
                      `every ${check.every.count === 1 ? check.every.unit.slice(0, -1) : sayCount(check.every.count, '', check.every.unit)}`,
                      check.ratedKg === null ? '' : `rated ${check.ratedKg} kg`,
                      sayLast(records, check, today),
                    ]
                      .filter(Boolean)
                      .join(', ')}
                    acts={
                      <>
                        {checkState(records, check, now) === 'good' ? <CheckActs check={check} shiftId={null} /> : null}
                        {mayChange ? (
                          <DialogButton kind="quiet" word="Change…" label={`Change ${check.name}`} title={check.name}>
                            {(close) => <CheckForm records={records} today={today} check={check} onDone={close} />}
                          </DialogButton>
                        ) : null}
                      </>
                    }
                  >
                    {check.name}
                  </WithActs>
                </Row>
              ))}
            </Rows>
          </Fold>
        </>
      )}
      {mayChange ? (
        <DialogButton className="self-start" word="Add a check…" mark="add" title="A check before use">
          {(close) => <CheckForm records={records} today={today} check={null} onDone={close} />}
        </DialogButton>
      ) : null}
    </>
  )
}

/** What was found last, when and by whom. */
function sayLast(records: Records, { last }: RecordOf<'check'>, today: string): string {
  if (last === null) return 'not done yet'
  return `last ${last.result} ${sayDay(last.date, today)}, ${records.person.get(last.by)?.name ?? 'somebody'}`
}

type FormProps = {
  readonly records: Records
  readonly today: string
  readonly check: RecordOf<'check'> | null
  readonly onDone: () => void
}

function CheckForm({ records, today, check, onDone }: FormProps) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const whats = Words.shape.what.options
  const [name, setName] = useState(check?.name ?? '')
  const [what, setWhat] = useState<(typeof whats)[number]>(check?.what ?? 'extraction')
  const [placeId, setPlace] = useState<string>(check?.placeId ?? '')
  const [count, setCount] = useState<number | undefined>(check?.every.count ?? 1)
  const [unit, setUnit] = useState<'days' | 'shifts'>(check?.every.unit ?? 'days')
  const [ratedKg, setRated] = useState<number | undefined>(check?.ratedKg ?? undefined)
  const places = [...records.place.values()]
  const keep = () => {
    const said = {
      ...{ id: check?.id ?? newId(), name: name.trim(), what, since: check?.since ?? today, isActive: true },
      placeId: places.find(({ id }) => id === placeId)?.id ?? null,
      every: { unit, count: Math.round(count ?? 1) },
      ratedKg: ratedKg ?? null,
    }
    if (attempt({ kind: 'setCheck', check: said })) onDone()
  }
  const end = () => {
    if (check === null) return
    const { last: _last, ...defined } = check
    if (attempt({ kind: 'setCheck', check: { ...defined, isActive: false } })) onDone()
  }
  const others =
    check === null ? null : (
      <Button kind="quiet" onClick={end}>
        End this check
      </Button>
    )
  return (
    <ActForm act="Keep it" problem={problem} isOff={name.trim() === '' || !count} onAct={keep} others={others}>
      <TextField label="Name" maxLength={120} value={name} onChange={(event) => setName(event.target.value)} />
      <div className="grid gap-4 tablet:grid-cols-2">
        <Select
          label="What"
          value={what}
          choices={whats.map((value) => ({ value, label: value }))}
          onValue={(value) => setWhat(whats.find((one) => one === value) ?? 'other')}
        />
        <Select
          label="Where"
          value={placeId}
          choices={[
            { value: '', label: 'The whole room' },
            ...places.map((one) => ({ value: one.id as string, label: `${one.code} ${one.name}` })),
          ]}
          onValue={setPlace}
          hint="A place whose check is overdue is not offered by a line-up."
        />
        <NumberField label="Every" min={1} max={1000} step={1} value={count} onValue={setCount} />
        <Select
          label="Days or shifts"
          value={unit}
          choices={[
            { value: 'days', label: 'days' },
            { value: 'shifts', label: 'shifts' },
          ]}
          onValue={(value) => setUnit(value === 'shifts' ? 'shifts' : 'days')}
        />
        {what === 'hoist' || what === 'sling' ? (
          <NumberField
            label="Rated load"
            unit="kg"
            min={0}
            step={10}
            value={ratedKg}
            onValue={setRated}
            hint="As its plate or label says."
          />
        ) : null}
      </div>
    </ActForm>
  )
}
