'use client'
// The lab's name, zone, whose limits are shown first, whom to ask, when it is closed, and from when a date is at risk.
import { useState } from 'react'
import { kinds, type RecordOf } from '#lib/words'
import { Button, Row, Rows, Select, TextField } from '../_parts/controls/index.ts'
import { sayDate } from '../_text/index.ts'
import { KeptNumber, KeptText } from '../room/kept-field.tsx'
import { Problem } from './problem.tsx'
import type { LabInHand } from './use-lab.ts'

const jurisdictions: Record<RecordOf<'lab'>['jurisdiction'], string> = {
  eu: 'European Union',
  uk: 'United Kingdom',
  us: 'United States',
  other: 'Elsewhere',
}

/** General settings. */
export function LabForm({ lab, keep }: LabInHand) {
  const [problem, setProblem] = useState<string>()
  return (
    <div className="grid gap-4 tablet:grid-cols-2">
      <KeptText label="Name of the lab" value={lab.name} onKeep={(name) => keep({ name })} />
      <KeptText
        label="Time zone"
        value={lab.zone}
        hint="Such as Europe/Berlin; all dates and times are of this zone."
        onKeep={(zone) => keep({ zone })}
      />
      <Select
        label="Published limits shown first"
        value={lab.jurisdiction}
        choices={kinds.lab.shape.jurisdiction.options.map((value) => ({ value, label: jurisdictions[value] }))}
        onValue={(value) => setProblem(keep({ jurisdiction: value as typeof lab.jurisdiction }))}
      />
      <KeptText
        label="Whom to ask about dust, noise, solvents and lifting"
        value={lab.safetyContact}
        onKeep={(safetyContact) => keep({ safetyContact })}
      />
      <KeptNumber
        label="A date is at risk below"
        unit="in 10"
        step={1}
        min={1}
        max={10}
        value={lab.riskBelowTenths}
        onKeep={(riskBelowTenths) => keep({ riskBelowTenths })}
      />
      <Problem say={problem} />
    </div>
  )
}

/** Dates on which nobody works. */
export function ClosedDays({ lab, keep }: LabInHand) {
  const [date, setDate] = useState('')
  const [problem, setProblem] = useState<string>()
  return (
    <div>
      <div className="flex flex-wrap items-end gap-3">
        <TextField label="Closed on" type="date" value={date} onChange={(event) => setDate(event.target.value)} />
        <Button
          mark="add"
          disabled={date === '' || lab.closed.includes(date)}
          onClick={() => {
            const said = keep({ closed: [...lab.closed, date].toSorted() })
            setProblem(said)
            if (said === undefined) setDate('')
          }}
        >
          Add
        </Button>
      </div>
      <Problem say={problem} />
      <Rows className="mt-3">
        {lab.closed.map((one) => (
          <Row
            key={one}
            end={
              <Button
                kind="quiet"
                onClick={() => setProblem(keep({ closed: lab.closed.filter((day) => day !== one) }))}
              >
                Open again<span className="sr-only"> on {sayDate(one, 'full')}</span>
              </Button>
            }
          >
            {sayDate(one, 'full')}
          </Row>
        ))}
      </Rows>
      {lab.closed.length === 0 ? <p className="pt-2 text-umber">No day is closed.</p> : null}
    </div>
  )
}
