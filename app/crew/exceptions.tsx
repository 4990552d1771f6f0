'use client'
// When somebody comes otherwise than usual: away or extra, one day or several, one shift or all. A holiday is entered
// once and kept day by day.
import { useState } from 'react'
import { addDays, daysBetween } from '#lib/base'
import { exceptionsFrom, shiftsOn } from '#lib/views'
import type { RecordOf, ShiftId } from '#lib/words'
import {
  ActForm,
  Button,
  Check,
  DialogButton,
  Notice,
  Row,
  Rows,
  Section,
  Select,
  TextField,
} from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayDate, sayDistance } from '../_text/index.ts'
import type { CrewAt } from './use-crew-at.ts'

type PartProps = { readonly at: CrewAt; readonly person: RecordOf<'person'> }

/** Longest span entered at once; the record keeps 400 days. */
const DAYS_MAX = 92
const SHOWN = 8

/** What is ahead, and the way to add to it. */
export function Exceptions({ at, person }: PartProps) {
  const { attempt, problem } = useTry()
  const [isWhole, setWhole] = useState(false)
  const ahead = exceptionsFrom(person, at.today)
  const shown = isWhole ? ahead : ahead.slice(0, SHOWN)
  const mayChange = at.isStaff || person.id === at.me
  const shiftName = (id: ShiftId | null) =>
    id === null
      ? 'the whole day'
      : (at.records.lab
          .get('lab')
          ?.shifts.find((one) => one.id === id)
          ?.name.toLowerCase() ?? '')
  return (
    <Section title="Otherwise than usual">
      {ahead.length === 0 ? <p className="py-2 text-umber">Nothing ahead.</p> : null}
      <Rows label="Exceptions ahead">
        {shown.map((one) => (
          <Row
            key={`${one.date} ${one.shiftId}`}
            lead={<Mark name={one.kind === 'away' ? 'away' : 'add'} size={22} />}
            note={`${shiftName(one.shiftId)}, ${sayDistance(one.date, at.today)}`}
            end={
              mayChange ? (
                <Button
                  kind="quiet"
                  label={`Take back ${one.kind} on ${sayDate(one.date)}`}
                  mark="undo"
                  onClick={() =>
                    attempt({
                      kind: 'setException',
                      personId: person.id,
                      date: one.date,
                      shiftId: one.shiftId,
                      exception: null,
                    })
                  }
                />
              ) : undefined
            }
          >
            <b>{one.kind}</b> {sayDate(one.date)}
          </Row>
        ))}
      </Rows>
      {ahead.length > shown.length ? (
        <Button kind="quiet" onClick={() => setWhole(true)}>
          All {ahead.length}
        </Button>
      ) : null}
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      {mayChange ? (
        <DialogButton mark="away" word="Away or extra…" title={`${person.name}, otherwise than usual`} className="mt-3">
          {(close) => <ExceptionForm at={at} person={person} onDone={close} />}
        </DialogButton>
      ) : null}
    </Section>
  )
}

function ExceptionForm({ at, person, onDone }: PartProps & { readonly onDone: () => void }) {
  const { attempt, problem } = useTry()
  const [kind, setKind] = useState<'away' | 'extra'>('away')
  const [from, setFrom] = useState(addDays(at.today, 1))
  const [to, setTo] = useState('')
  const [shiftId, setShift] = useState('')
  const lab = at.records.lab.get('lab')
  const last = to === '' || to < from ? from : to
  const isTooLong = from !== '' && daysBetween(from, last) > DAYS_MAX
  const keep = () => {
    // Day by day, because one day may be taken back while the others stand; days without a shift need none.
    for (let date = from; date <= last; date = addDays(date, 1)) {
      if (last !== from && lab && shiftsOn(lab, date).length === 0) continue
      const exception = { date, shiftId: shiftId === '' ? null : (shiftId as ShiftId), exception: kind }
      if (!attempt({ kind: 'setException', personId: person.id, ...exception })) return
    }
    onDone()
  }
  return (
    <ActForm
      act="Note it"
      problem={isTooLong ? `At most ${DAYS_MAX} days at once.` : problem}
      isOff={from === '' || isTooLong}
      onAct={keep}
    >
      <fieldset className="flex flex-wrap gap-x-8">
        <legend className="sr-only">Away or extra</legend>
        <Check oneOf="exception" label="Away" isOn={kind === 'away'} onToggle={() => setKind('away')} />
        <Check oneOf="exception" label="Comes extra" isOn={kind === 'extra'} onToggle={() => setKind('extra')} />
      </fieldset>
      <div className="grid gap-4 tablet:grid-cols-2">
        <TextField
          label="On, or from"
          type="date"
          min={at.today}
          value={from}
          onChange={(event) => setFrom(event.target.value)}
        />
        <TextField
          label="To, where it is several days"
          type="date"
          min={from}
          value={to}
          onChange={(event) => setTo(event.target.value)}
        />
      </div>
      <Select
        label="Shift"
        value={shiftId}
        onValue={setShift}
        choices={[
          { value: '', label: 'The whole day' },
          ...(lab?.shifts ?? []).map((shift) => ({ value: shift.id as string, label: shift.name })),
        ]}
      />
    </ActForm>
  )
}
