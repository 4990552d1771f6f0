'use client'
// When something ends: a day and a time, who is there then, and where nobody is, the nearest times at which somebody is, one
// press away; or the reason why it may end alone.
import { tendedAround, thereFor } from '#lib/rules'
import type { LabTime, Records } from '#lib/words'
import { Button, TextField } from '../_parts/controls/index.ts'
import { sayLabTime, sayList } from '../_text/index.ts'

type EndFieldsProps = {
  readonly records: Records
  readonly techniqueId: string | null
  readonly today: string
  readonly label: string
  readonly value: { readonly date: string; readonly time: string }
  readonly onValue: (value: { readonly date: string; readonly time: string }) => void
  readonly despite: string
  readonly onDespite: (reason: string) => void
}

/** True when the fields say a day and a time. */
export const isLabTime = (value: LabTime): boolean => value.date !== '' && /^\d\d:\d\d$/.test(value.time)

/** True where somebody who may see to it is expected then. */
export const isTended = (records: Records, techniqueId: string | null, { date, time }: LabTime): boolean =>
  thereFor(records, techniqueId, date, time).length > 0

/** The fields and what they come to. */
export function EndFields(props: EndFieldsProps) {
  const { records, techniqueId, today, label, value, onValue, despite, onDespite } = props
  return (
    <div className="flex flex-col gap-3">
      <div className="grid grid-cols-2 gap-3">
        <TextField
          label={`${label} on`}
          type="date"
          min={today}
          value={value.date}
          onChange={(event) => onValue({ ...value, date: event.target.value })}
        />
        <TextField
          label="at"
          type="time"
          value={value.time}
          onChange={(event) => onValue({ ...value, time: event.target.value })}
        />
      </div>
      {isLabTime(value) ? (
        <WhoIsThere {...{ records, techniqueId, today, value, onValue, despite, onDespite }} />
      ) : null}
    </div>
  )
}

function WhoIsThere(props: Omit<EndFieldsProps, 'label'>) {
  const { records, techniqueId, today, value, onValue, despite, onDespite } = props
  const there = thereFor(records, techniqueId, value.date, value.time).map(({ name }) => name)
  if (there.length > 0)
    return (
      <p className="text-small text-umber" aria-live="polite">
        In then: {there.length > 4 ? `${there.slice(0, 3).join(', ')} and ${there.length - 3} more` : sayList(there)}.
      </p>
    )
  const { before, after } = tendedAround(records, techniqueId, value)
  const near = [after, before].filter((one) => one !== null)
  return (
    <div className="flex flex-col gap-2 border-l-[5px] border-ink pl-3" aria-live="polite">
      <p className="font-strong">Nobody who may see to it is expected then.</p>
      <div className="flex flex-wrap gap-2">
        {near.map((one) => (
          <Button key={`${one.date} ${one.time}`} onClick={() => onValue(one)}>
            End at {sayLabTime(one, today)}
          </Button>
        ))}
      </div>
      <TextField
        label="Or why it may end with nobody there"
        hint="Stays with the clock. Local rules and the safety officer decide what may run alone."
        maxLength={240}
        value={despite}
        onChange={(event) => onDespite(event.target.value)}
      />
    </div>
  )
}
