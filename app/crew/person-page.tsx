'use client'
// One person: what they can do and who signed it off, when they come and when not, and for themselves and the manager
// what the day does to them and what they gave this year. The same page on every screen, one column on a phone.
import Link from 'next/link'
import { isOfCrew, mayReadSafety } from '#lib/rules'
import { crewOf, hoursThisYear } from '#lib/views'
import type { RecordOf } from '#lib/words'
import { buttonClass, DialogButton, Notice, Section } from '../_parts/controls/index.ts'
import { later } from '../_shell/later.tsx'
import { sayCount, sayDate, sayMinutes, sayRole } from '../_text/index.ts'
import { Access } from './access.tsx'
import { ContactSection } from './contact.tsx'
import { Exceptions } from './exceptions.tsx'
import { Loves } from './loves.tsx'
import { Pattern } from './pattern.tsx'
import { PersonForm } from './person-form.tsx'
import { PrivateNotes } from './private-notes.tsx'
import { Skills } from './skills.tsx'
import { TickWords } from './tick.tsx'
import type { CrewAt } from './use-crew-at.ts'

const LearningSection = later(async () => (await import('./learning/learning-section.tsx')).LearningSection)
const Crafts = later(async () => (await import('./learning/crafts.tsx')).Crafts)
const CalendarIn = later(async () => (await import('./days/calendar-in.tsx')).CalendarIn)
const Spells = later(async () => (await import('./days/spells.tsx')).Spells)
const NoShows = later(async () => (await import('./days/no-shows.tsx')).NoShows)
// With the published limits it needs, and only for those who may see it.
const LedgerSection = later(async () => (await import('../safety/ledger.tsx')).LedgerSection)

export type PersonPageProps = { readonly at: CrewAt; readonly person: RecordOf<'person'> }

/** The page. */
export function PersonPage({ at, person }: PersonPageProps) {
  const isOwn = person.id === at.me
  const isCrew = person.role !== 'researcher'
  const maySeeFigures = isOwn || at.isManager
  const maySeeExposure = isCrew && (isOwn || mayReadSafety(at.records, at.me))
  return (
    <div className="crew margin-page pb-10">
      <p className="no-print pt-3">
        <Link className={`${buttonClass('quiet')} -ml-2`} href="/crew">
          All of the crew
        </Link>
      </p>
      <PersonHead at={at} person={person} />
      {person.isActive ? null : <Notice kind="stale">{person.name} has left; the record of their work stays.</Notice>}
      <div className="person-grid">
        <div className="flex min-w-0 flex-col gap-8">
          {isCrew ? <LearningSection at={at} person={person} /> : null}
          {isCrew ? <Skills at={at} person={person} /> : null}
        </div>
        <div className="flex min-w-0 flex-col gap-8">
          {isCrew ? <Pattern at={at} person={person} /> : null}
          {isCrew ? <Spells at={at} person={person} /> : null}
          {isCrew ? (
            <div>
              <Exceptions at={at} person={person} />
              {isOwn ? <CalendarIn at={at} person={person} /> : null}
            </div>
          ) : null}
          {at.isManager && isCrew ? <NoShows at={at} person={person} /> : null}
          {isCrew ? <Loves at={at} person={person} /> : null}
          {isCrew ? <Crafts at={at} person={person} /> : null}
          {maySeeExposure ? <LedgerSection records={at.records} personId={person.id} today={at.today} /> : null}
          {maySeeFigures && isCrew ? <Hours at={at} person={person} /> : null}
          {at.isStaff || isOwn ? <ContactSection at={at} person={person} /> : null}
          {at.isManager ? (
            <PrivateNotes
              records={at.records}
              today={at.today}
              about={{ aboutPersonId: person.id, aboutPieceId: null }}
              name={person.name}
            />
          ) : null}
          {at.isManager || isOwn ? <Access at={at} person={person} /> : null}
        </div>
      </div>
    </div>
  )
}

function PersonHead({ at, person }: PersonPageProps) {
  const mayTick = at.isStaff || person.id === at.me
  const seats = at.shifts.flatMap((shift) => {
    const turn = at.records.assignment.get(`${at.today}.${shift.id}.${person.id}`)
    const code = turn && at.records.place.get(turn.placeId)?.code
    return code ? [`${code}, ${shift.name.toLowerCase()}`] : []
  })
  return (
    <header className="flex flex-wrap items-start justify-between gap-x-8 gap-y-3 border-b-[1.5px] border-ink pb-4">
      <div>
        <h1 className="heading text-title">
          {person.name} <span className="text-umber">{person.familyName}</span>
        </h1>
        <p className="text-umber">
          {sayRole(person.role)} since {sayDate(person.since, 'full')}
          {person.hasJoined ? '' : ', has not used the invite link yet'}
          {seats.length === 0 ? '' : `. Today at ${seats.join('; ')}`}
        </p>
        {at.isManager ? (
          <DialogButton
            kind="quiet"
            word="Change…"
            label={`Change ${person.name}`}
            title={person.name}
            className="-ml-2"
          >
            {(close) => <PersonForm at={at} person={person} onDone={close} />}
          </DialogButton>
        ) : null}
      </div>
      <div className="flex flex-col gap-2">
        {mayTick && isOfCrew(person)
          ? theirShifts(at, person.id).map((shift) => (
              <div key={shift.id} className="flex flex-wrap items-center gap-x-3 gap-y-1">
                <span className="w-24 text-small font-firm">{shift.name}</span>
                <TickWords at={at} personId={person.id} name={person.name} shift={shift} />
              </div>
            ))
          : null}
      </div>
    </header>
  )
}

/** Today's shifts they belong to; somebody whom nobody expects can be ticked into the one that is shown. */
function theirShifts(at: CrewAt, personId: RecordOf<'person'>['id']): CrewAt['shifts'] {
  const theirs = at.shifts.filter((shift) => crewOf(at.records, at.today, shift.id).has(personId))
  return theirs.length > 0 || at.shift === null ? theirs : [at.shift]
}

/** What they gave this year: no comparison with anybody. */
function Hours({ at, person }: PersonPageProps) {
  const { minutes, stretches } = hoursThisYear(at.records, person.id, at.today)
  return (
    <Section title={`Hours in ${at.today.slice(0, 4)}`} aside="for them and the manager">
      <p className="pt-3">
        {minutes === 0 ? (
          'Nothing logged yet this year.'
        ) : (
          <>
            <span className="named text-page">{sayMinutes(Math.round(minutes / 60) * 60)}</span> in{' '}
            {sayCount(stretches, 'stretch', 'stretches')} of work.
          </>
        )}
      </p>
    </Section>
  )
}
