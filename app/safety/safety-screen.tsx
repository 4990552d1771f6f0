'use client'
// Safety: what is to be checked before use, telling of an incident, and for the managers and whoever looks after safety
// all incidents and the day's exposures. What is private comes by a question and is in no document.
import Link from 'next/link'
import { useMemo, useState } from 'react'
import { isOfCrew, mayReadSafety } from '#lib/rules'
import { exposureToday, type SafetyAnswer, withHandMinutes } from '#lib/views'
import type { PlaceId, RecordOf, Records } from '#lib/words'
import { useAsk, useBoard, useNewId, usePresence } from '../_board/index.ts'
import {
  ActForm,
  Button,
  buttonClass,
  DialogButton,
  Notice,
  PageHeading,
  Row,
  Rows,
  Section,
  Select,
  TextArea,
  TextField,
} from '../_parts/controls/index.ts'
import { keepFile } from '../_shell/keep-file.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayDate, sayPoints } from '../_text/index.ts'
import { NotHere } from '../crew/not-here.tsx'
import { useCrewAt } from '../crew/use-crew-at.ts'
import { CheckDefinitions } from './check-form.tsx'
import { CheckRows } from './check-rows.tsx'
import { incidentsAsCsv } from './export.ts'
import { SampleForm } from './sample-form.tsx'
import { useHandMinutes } from './use-hand-minutes.ts'

/** The page. */
export function SafetyScreen() {
  const at = useCrewAt()
  usePresence('safety')
  const records = useBoard((board) => board)
  if (!at || at.role === 'researcher' || at.role === 'wall') return <NotHere title="Safety" isComing={!at} />
  const isSafety = mayReadSafety(records, at.me)
  return (
    <div className="margin-page mx-auto flex max-w-4xl flex-col gap-8 pb-16">
      <PageHeading
        title="Safety"
        actions={
          <Link className={buttonClass('line')} href={`/crew?person=${at.me}`}>
            My own figures
          </Link>
        }
      />
      <Contact records={records} />
      <Section title="Checks before use">
        <div className="flex flex-col gap-3 pt-3">
          <CheckRows records={records} now={{ date: at.today, minute: at.minute }} shiftId={at.shift?.id ?? null} />
          <CheckDefinitions records={records} now={{ date: at.today, minute: at.minute }} mayChange={isSafety} />
        </div>
      </Section>
      <Incidents records={records} today={at.today} isSafety={isSafety} />
      {isSafety ? <Exposures records={records} today={at.today} /> : null}
      {isSafety ? (
        <Section title="Air samples" aside="private">
          <div className="pt-3">
            <SampleForm records={records} today={at.today} />
          </div>
        </Section>
      ) : null}
    </div>
  )
}

function Contact({ records }: { readonly records: Records }) {
  const contact = records.lab.get('lab')?.safetyContact ?? ''
  return (
    <Notice kind="plain" mark="caution">
      {contact === ''
        ? 'No safety contact is named yet; the manager does so in the lab settings.'
        : `In doubt: ${contact}.`}{' '}
      Local codes, the site’s safety officer and licensed practice decide.
    </Notice>
  )
}

type Props = { readonly records: Records; readonly today: string }

/** Telling is everybody's; reading all of them is not. */
function Incidents({ records, today, isSafety }: Props & { readonly isSafety: boolean }) {
  const { answer, again } = useAsk<SafetyAnswer | { readonly refused: string }>('safety', { about: null })
  const incidents = answer === null || 'refused' in answer ? [] : answer.incidents
  const corrected = new Set(incidents.map(({ corrects }) => corrects))
  return (
    <Section title="Incidents and near misses" aside={isSafety ? 'private' : 'yours, private'}>
      <div className="flex flex-col gap-3 pt-3">
        <p className="text-umber">
          Read by you, the managers and whoever looks after safety, and by nobody else. Nothing told here is ever
          removed.
        </p>
        <div className="flex flex-wrap gap-3">
          <DialogButton word="Tell of something…" mark="add" title="Incident or near miss">
            {(close) => <IncidentForm records={records} today={today} onDone={close} />}
          </DialogButton>
          <Button kind="quiet" onClick={again}>
            Look again
          </Button>
          {incidents.length === 0 ? null : (
            <>
              <Button
                kind="quiet"
                onClick={() => keepFile('incidents.csv', 'text/csv', incidentsAsCsv(incidents, records))}
              >
                Take out as CSV
              </Button>
              <Button
                kind="quiet"
                onClick={() => keepFile('incidents.json', 'application/json', JSON.stringify(incidents, null, 2))}
              >
                Take out as JSON
              </Button>
            </>
          )}
        </div>
        <Rows label="Incidents, newest first">
          {incidents.map((one) => (
            <Row
              key={one.id}
              height="list"
              note={`${one.kind}, ${sayDate(one.date, 'full')}, told by ${records.person.get(one.by)?.name ?? 'somebody'}${
                one.placeId === null ? '' : `, at ${records.place.get(one.placeId)?.code ?? ''}`
              }${corrected.has(one.id) ? '; corrected since' : ''}`}
            >
              {one.what}
              {one.done === '' ? '' : ` Done about it: ${one.done}`}
            </Row>
          ))}
        </Rows>
      </div>
    </Section>
  )
}

function IncidentForm({ records, today, onDone }: Props & { readonly onDone: () => void }) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [kind, setKind] = useState<'incident' | 'near miss'>('near miss')
  const [date, setDate] = useState(today)
  const [placeId, setPlace] = useState('')
  const [what, setWhat] = useState('')
  const [done, setDone] = useState('')
  const places = [...records.place.values()]
  const tell = () => {
    const about = { personId: null, placeId: places.find(({ id }) => id === placeId)?.id ?? null, pieceId: null }
    const said = { id: newId(), kind, date, what: what.trim(), done: done.trim(), corrects: null, ...about }
    if (attempt({ kind: 'reportIncident', incident: said })) onDone()
  }
  return (
    <ActForm act="Tell it" problem={problem} isOff={what.trim() === '' || date === ''} onAct={tell}>
      <Select
        label="It was"
        value={kind}
        choices={[
          { value: 'near miss', label: 'A near miss: nobody was hurt' },
          { value: 'incident', label: 'An incident: somebody was hurt or something broke' },
        ]}
        onValue={(value) => setKind(value === 'incident' ? 'incident' : 'near miss')}
      />
      <div className="grid gap-4 tablet:grid-cols-2">
        <TextField label="On" type="date" value={date} max={today} onChange={(event) => setDate(event.target.value)} />
        <Select
          label="Where"
          value={placeId}
          choices={[
            { value: '', label: 'Elsewhere' },
            ...places.map(({ id, code, name }) => ({ value: id as string, label: `${code} ${name}` })),
          ]}
          onValue={(value) => setPlace(value as PlaceId | '')}
        />
      </div>
      <TextArea
        label="What happened"
        rows={4}
        maxLength={8000}
        value={what}
        onChange={(event) => setWhat(event.target.value)}
      />
      <TextArea
        label="What was done about it"
        rows={2}
        maxLength={8000}
        value={done}
        onChange={(event) => setDone(event.target.value)}
      />
    </ActForm>
  )
}

/** Who is at or above the lab's vibration or noise limit, or has something uncounted, today. */
function Exposures({ records, today }: Props) {
  const { works } = useHandMinutes(records, null, true)
  const told = useMemo(() => withHandMinutes(records, works), [records, works])
  const rows = [...records.person.values()].flatMap((person: RecordOf<'person'>) => {
    const exposure = isOfCrew(person) ? exposureToday(told, person.id, today) : null
    if (!exposure) return []
    const points = exposure.donePoints + exposure.plannedPoints
    return points > 0 || exposure.unknown.length > 0 ? [{ person, exposure, points }] : []
  })
  return (
    <Section title="Today’s vibration" aside="private">
      {rows.length === 0 ? (
        <p className="pt-3">Nobody has a vibrating tool today.</p>
      ) : (
        <Rows label="Vibration of today by person">
          {rows
            .toSorted((a, b) => b.points - a.points)
            .map(({ person, exposure, points }) => (
              <Row
                key={person.id}
                height="list"
                note={
                  exposure.unknown.length === 0
                    ? undefined
                    : `Not counted, figure unknown: ${exposure.unknown.join(', ')}`
                }
                end={sayPoints(points, exposure.limit)}
              >
                <Link className="underline underline-offset-4" href={`/crew?person=${person.id}`}>
                  {person.name}
                </Link>
                {points >= exposure.limit ? ': at the lab’s limit, rest from air tools' : ''}
              </Row>
            ))}
        </Rows>
      )}
    </Section>
  )
}
