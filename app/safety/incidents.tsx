'use client'
// Incidents and near misses: telling is everybody's, reading all of them is not. What was told is never changed; who told
// it, or whoever looks after safety, tells it anew, and the old one stays beneath.
import { useEffect, useMemo, useState } from 'react'
import { isOfCrew } from '#lib/rules'
import type { SafetyAnswer } from '#lib/views'
import type { RecordOf, Records } from '#lib/words'
import { useAsk, useNewId } from '../_board/index.ts'
import { addressOf } from '../_parts/address.ts'
import {
  ActForm,
  buttonClass,
  DialogButton,
  Row,
  Rows,
  Section,
  Select,
  TextArea,
  TextField,
} from '../_parts/controls/index.ts'
import { useKeptForm } from '../_shell/kept-form.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayDate } from '../_text/index.ts'
import { WithActs } from './check-rows.tsx'

type Incident = RecordOf<'incident'>
type IncidentsProps = {
  readonly records: Records
  readonly today: string
  readonly me: RecordOf<'person'>['id']
  readonly isSafety: boolean
}

/** The section: the form, what was told as far as one may read it, and its files. */
export function Incidents({ records, today, me, isSafety }: IncidentsProps) {
  const incidents = useIncidents(records)
  const corrected = new Set(incidents.map(({ corrects }) => corrects))
  return (
    <Section title="Incidents and near misses" aside={isSafety ? 'private' : 'yours, private'}>
      <div className="flex flex-col gap-3 pt-3">
        <p className="text-umber">
          Read by you, the managers and whoever looks after safety, and by nobody else. Nothing told here is ever
          removed.
        </p>
        <DialogButton className="self-start" word="Tell of something…" mark="add" title="Incident or near miss">
          {(close) => <IncidentForm records={records} today={today} old={null} onDone={close} />}
        </DialogButton>
        {incidents.length === 0 ? null : (
          <Rows label="Incidents, newest first">
            {incidents.map((one) => {
              const isOld = corrected.has(one.id)
              return (
                <Row key={one.id} height="list" isDone={isOld}>
                  <WithActs
                    note={noteOf(records, one, isOld)}
                    acts={
                      isOld || !(isSafety || one.by === me) ? null : (
                        <DialogButton
                          kind="quiet"
                          className="no-print"
                          word="Correct…"
                          label={`Correct what was told of ${sayDate(one.date, 'full')}`}
                          title="Told anew; the old stays"
                        >
                          {(close) => <IncidentForm records={records} today={today} old={one} onDone={close} />}
                        </DialogButton>
                      )
                    }
                  >
                    {one.what}
                    {one.done === '' ? '' : ` Done about it: ${one.done}`}
                  </WithActs>
                </Row>
              )
            })}
          </Rows>
        )}
        {incidents.length === 0 ? null : (
          <div className="flex flex-wrap gap-3">
            <a className={buttonClass('quiet')} href={addressOf('/api/out/incidents.csv')} download>
              Take out as CSV
            </a>
            <a className={buttonClass('quiet')} href={addressOf('/api/out/incidents.json')} download>
              Take out as JSON
            </a>
          </div>
        )}
      </div>
    </Section>
  )
}

/** What one may read of them, newest first. The board holds none but what is on its way from this device. */
function useIncidents(records: Records): readonly Incident[] {
  const waiting = useMemo(() => [...records.incident.values()], [records.incident])
  // The server reads `about` alone; what waits is there so that something just kept asks anew.
  const asked = { about: null, waiting: waiting.map(({ id }) => id).join() }
  const { answer } = useAsk<SafetyAnswer | { readonly refused: string }>('safety', asked)
  const [kept, setKept] = useState<readonly Incident[]>([])
  useEffect(() => {
    if (answer !== null && !('refused' in answer)) setKept(answer.incidents)
  }, [answer])
  const known = new Set(kept.map(({ id }) => id))
  return [...waiting.filter(({ id }) => !known.has(id)), ...kept]
}

function noteOf(records: Records, one: Incident, isOld: boolean): string {
  const name = (id: string) => records.person.get(id as Incident['by'])?.name ?? 'somebody'
  return [
    one.kind,
    sayDate(one.date, 'full'),
    one.placeId === null ? '' : `at ${records.place.get(one.placeId)?.code ?? ''}`,
    one.personId === null ? '' : `it happened to ${name(one.personId)}`,
    `told by ${name(one.by)}`,
    isOld ? 'corrected since' : '',
  ]
    .filter(Boolean)
    .join(', ')
}

type FormProps = {
  readonly records: Records
  readonly today: string
  /** What is told anew. */
  readonly old: Incident | null
  readonly onDone: () => void
}

function IncidentForm({ records, today, old, onDone }: FormProps) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [blank] = useState(() => ({
    ...{ kind: (old?.kind ?? 'near miss') as string, date: old?.date ?? today, what: old?.what ?? '' },
    ...{ placeId: (old?.placeId ?? '') as string, personId: (old?.personId ?? '') as string, done: old?.done ?? '' },
  }))
  const { form, set, clear } = useKeptForm(`incident.${old?.id ?? 'new'}`, blank)
  const places = [...records.place.values()]
  const people = [...records.person.values()].filter((one) => isOfCrew(one) || one.id === old?.personId)
  const tell = () => {
    const said = {
      ...{ id: newId(), kind: form.kind === 'incident' ? ('incident' as const) : ('near miss' as const) },
      ...{ date: form.date, what: form.what.trim(), done: form.done.trim() },
      personId: people.find(({ id }) => id === form.personId)?.id ?? null,
      placeId: places.find(({ id }) => id === form.placeId)?.id ?? null,
      ...{ pieceId: old?.pieceId ?? null, corrects: old?.id ?? null },
    }
    if (!attempt({ kind: 'reportIncident', incident: said })) return
    clear()
    onDone()
  }
  const isWhole = form.what.trim() !== '' && form.date !== ''
  return (
    <ActForm act={old === null ? 'Tell it' : 'Tell it anew'} problem={problem} isOff={!isWhole} onAct={tell}>
      <Select
        label="It was"
        value={form.kind}
        choices={[
          { value: 'near miss', label: 'A near miss: nobody was hurt' },
          { value: 'incident', label: 'An incident: somebody was hurt or something broke' },
        ]}
        onValue={(kind) => set({ kind })}
      />
      <div className="grid gap-4 tablet:grid-cols-2">
        <TextField
          label="On"
          type="date"
          value={form.date}
          max={today}
          onChange={(event) => set({ date: event.target.value })}
        />
        <Select
          label="Where"
          value={form.placeId}
          choices={[
            { value: '', label: 'Elsewhere' },
            ...places.map(({ id, code, name }) => ({ value: id as string, label: `${code} ${name}` })),
          ]}
          onValue={(placeId) => set({ placeId })}
        />
        <Select
          label="Whom it happened to"
          value={form.personId}
          choices={[
            { value: '', label: 'Nobody, or not to be said' },
            ...people.map(({ id, name }) => ({ value: id as string, label: name })),
          ]}
          onValue={(personId) => set({ personId })}
        />
      </div>
      <TextArea
        label="What happened"
        rows={4}
        maxLength={8000}
        value={form.what}
        onChange={(event) => set({ what: event.target.value })}
      />
      <TextArea
        label="What was done about it"
        rows={2}
        maxLength={8000}
        value={form.done}
        onChange={(event) => set({ done: event.target.value })}
      />
    </ActForm>
  )
}
