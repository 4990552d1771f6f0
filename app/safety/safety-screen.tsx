'use client'
// Safety: what is to be checked before use, telling of an incident, and for the managers and whoever looks after safety
// all incidents and the day's exposures. What is private comes by a question and is in no document.
import Link from 'next/link'
import { useMemo } from 'react'
import { isOfCrew, mayReadSafety } from '#lib/rules'
import { type CrewExposure, type DayExposure, dayExposureOf, hasTool, withHandMinutes } from '#lib/views'
import type { RecordOf, Records } from '#lib/words'
import { useBoard, usePresence } from '../_board/index.ts'
import { buttonClass, Notice, PageHeading, Row, Rows, Section } from '../_parts/controls/index.ts'
import { sayList, sayNoise, sayPoints } from '../_text/index.ts'
import { NotHere } from '../crew/not-here.tsx'
import { useCrewAt } from '../crew/use-crew-at.ts'
import { CheckDefinitions } from './check-form.tsx'
import { CheckRows } from './check-rows.tsx'
import { Incidents } from './incidents.tsx'
import { SampleForm } from './sample-form.tsx'
import { sayValues, uncountedOf } from './say-day.ts'
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
      <Incidents records={records} today={at.today} me={at.me} isSafety={isSafety} />
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
    <Notice kind="plain" mark="caution" className="py-0">
      {contact === ''
        ? 'No safety contact is named yet; the manager does so in the lab settings.'
        : `In doubt: ${contact}.`}{' '}
      Local codes, the site’s safety officer and licensed practice decide.
    </Notice>
  )
}

type Props = { readonly records: Records; readonly today: string }

/** Who has a vibrating or loud tool today, or something uncounted, the most exposed first. */
function Exposures({ records, today }: Props) {
  const { works } = useHandMinutes(records, null, true)
  const told = useMemo(() => withHandMinutes(records, works), [records, works])
  const rows = [...records.person.values()].flatMap((person: RecordOf<'person'>) => {
    const day = isOfCrew(person) ? dayExposureOf(told, person.id, today) : null
    return day && hasTool(day) ? [{ person, day, points: day.exposure.donePoints + day.exposure.plannedPoints }] : []
  })
  return (
    <Section title="Today’s exposure" aside="private">
      {rows.length === 0 ? (
        <p className="pt-3">Nobody has a vibrating or loud tool today.</p>
      ) : (
        <Rows label="Exposure of today by person, done and planned">
          {rows
            .toSorted((a, b) => b.points - a.points)
            .map(({ person, day, points }) => (
              <Row
                key={person.id}
                height="list"
                note={
                  uncountedOf(day).length === 0
                    ? undefined
                    : `Not counted, figure unknown: ${sayList(uncountedOf(day))}`
                }
                end={<Figures day={day} points={points} />}
              >
                <Link
                  className="-my-2.5 inline-flex min-h-11 min-w-11 items-center underline underline-offset-4"
                  href={`/crew?person=${person.id}`}
                >
                  {person.name}
                </Link>
                {sayState(day, points)}
              </Row>
            ))}
        </Rows>
      )}
    </Section>
  )
}

/** Vibration and noise of a day; a tool without a figure is not nought. */
function Figures({ day, points }: { readonly day: DayExposure; readonly points: number }) {
  const { exposure, ledger } = day
  const isUnknown = ledger.unknownVibration.length + day.withoutShare.length > 0
  return (
    <span>
      {points > 0 ? sayPoints(points, exposure.limit) : isUnknown ? 'vibration unknown' : 'no vibration'}
      {exposure.noiseDba === null ? null : <span className="block">{sayNoise(exposure.noiseDba)}</span>}
    </span>
  )
}

function sayState(day: DayExposure, points: number): string {
  const said = [isAtLimit(day.exposure, points) ? 'at the lab’s limit, rest from air tools' : '', sayValues(day)]
  return said.some(Boolean) ? `: ${said.filter(Boolean).join('; ')}` : ''
}

const isAtLimit = ({ limit, noiseDba, noiseLimit }: CrewExposure, points: number): boolean =>
  (points > 0 && points >= limit) || (noiseDba !== null && noiseDba >= noiseLimit)
