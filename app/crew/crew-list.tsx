'use client'
// The crew of a shift: one sentence, one tick per person, what they can do and when they come. A matrix on a desk, rows
// on a phone or tablet; the same people in the same order.
import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { memo } from 'react'
import { weekdayOf } from '#lib/base'
import { isOfCrew } from '#lib/rules'
import { crewOf, crewRows, exposureOn, weekOf, withHandMinutes } from '#lib/views'
import { paintsFor, useDerived } from '../_board/index.ts'
import {
  Button,
  buttonClass,
  DialogButton,
  Fold,
  Notice,
  PageHeading,
  Row,
  Rows,
  Section,
} from '../_parts/controls/index.ts'
import { ExposureBar, KeyItem, levelWords, SkillRing, Stool } from '../_parts/figures/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { useShared } from '../_parts/shared.ts'
import { later } from '../_shell/later.tsx'
import { sayWeekday } from '../_text/index.ts'
import { useHandMinutes } from '../safety/use-hand-minutes.ts'
import { CrewRows } from './crew-rows.tsx'
import { ExposureLine } from './exposure.tsx'
import { LinkSheet } from './link-sheet.tsx'
import { Matrix } from './matrix.tsx'
import { PersonForm } from './person-form.tsx'
import { SwapsSeen } from './swaps.tsx'
import { TickSheet } from './tick.tsx'
import { type CrewAt, nameIn } from './use-crew-at.ts'
import { WeekKey } from './week.tsx'
import { sayAsks, sayWhoIsIn } from './words.ts'
import { Year } from './year.tsx'

const Training = later(async () => (await import('./learning/training.tsx')).Training)

/** Everybody who works here. */
export function CrewList({ at }: { readonly at: CrewAt }) {
  const { records, today, shift } = at
  const rows = useDerived(records, (board) => crewRows(board, today, shift?.id ?? null), [today, shift])
  const people = useShared(rows.map((row) => row.person))
  const weeks = useDerived(
    records,
    (board) => new Map(people.map((person) => [person.id, weekOf(board, person, today)])),
    [people, today],
  )
  const crew = shift ? [...crewOf(records, today, shift.id).values()] : []
  const weekday = sayWeekday(weekdayOf(today))
  return (
    <div className="crew margin-page pb-10">
      <PageHeading
        title={shift ? sayWhoIsIn(weekday, crew) : `${weekday}: the lab is closed`}
        actions={
          <>
            <Link className={buttonClass('line')} href="/safety">
              Safety
            </Link>
            {at.isStaff && shift ? (
              <DialogButton
                kind="ink"
                mark="tick"
                word="Tick who is in"
                title={`Who is in, ${shift.name.toLowerCase()}`}
              >
                {() => <TickSheet at={at} rows={rows} shift={shift} />}
              </DialogButton>
            ) : null}
            {at.isManager ? (
              <>
                <DialogButton mark="add" word="Add a person…" title="Somebody new">
                  {(close) => <PersonForm at={at} person={null} onDone={close} />}
                </DialogButton>
                <DialogButton word="Wall link…" title="A link for the Wall" width="narrow">
                  {() => (
                    <LinkSheet
                      path="/api/wall-link"
                      body={{}}
                      words="Opens the Wall on a screen in the room. It shows today, first names only, and no actions. A new link ends the former one."
                    />
                  )}
                </DialogButton>
              </>
            ) : null}
          </>
        }
      />
      <ShiftChoice at={at} />
      <Asks at={at} />
      <SwapsSeen at={at} />
      <Own at={at} />
      {rows.length === 0 ? (
        <Notice kind="empty">Nobody is in the crew yet.</Notice>
      ) : (
        <>
          <div className="hidden desk:block">
            <Matrix at={at} rows={rows} weeks={weeks} />
          </div>
          <div className="desk:hidden">
            <CrewRows at={at} rows={rows} weeks={weeks} />
          </div>
        </>
      )}
      <Key />
      {at.isStaff ? <Training at={at} /> : null}
      <Year at={at} />
      <Gone at={at} />
    </div>
  )
}

/** Which shift the ticks are for. */
function ShiftChoice({ at }: { readonly at: CrewAt }) {
  const router = useRouter()
  if (at.shifts.length < 2) return null
  return (
    <fieldset className="flex flex-wrap gap-2 pb-4">
      <legend className="sr-only">Shift</legend>
      {at.shifts.map((shift) => (
        <Button
          key={shift.id}
          aria-pressed={shift.id === at.shift?.id}
          onClick={() => router.replace(`/crew?shift=${shift.id}`, { scroll: false })}
        >
          {shift.name}
          <span className="hidden text-small font-plain tablet:inline">
            {shift.start}–{shift.end}
          </span>
        </Button>
      ))}
    </fieldset>
  )
}

/** Sign-offs asked for: staff see all, everybody else their own on their page. */
const Asks = memo(
  function Asks({ at }: { readonly at: CrewAt }) {
    const asks = [...at.records.signOffAsk.values()]
    if (!at.isStaff || asks.length === 0) return null
    const techniques = at.records.lab.get('lab')?.techniques ?? []
    return (
      <Section title={sayAsks(asks.length)} className="max-w-3xl pb-6">
        <Rows label="Sign-offs asked for">
          {asks.map((ask) => (
            <Row
              key={ask.id}
              lead={<Mark name="learner" size={22} />}
              note={ask.note}
              end={
                <Link
                  className={buttonClass('quiet')}
                  href={`/crew?person=${ask.personId}&technique=${ask.techniqueId}`}
                >
                  Look
                </Link>
              }
            >
              <b>{nameIn(at.records, ask.personId)}</b>:{' '}
              {techniques.find((one) => one.id === ask.techniqueId)?.name.toLowerCase() ?? 'a technique'}
            </Row>
          ))}
        </Rows>
      </Section>
    )
  },
  paintsFor('signOffAsk', 'lab', 'person'),
)

/** One's own exposure today, and the way to one's own page. */
function Own({ at }: { readonly at: CrewAt }) {
  const person = at.records.person.get(at.me)
  const { works } = useHandMinutes(at.records, at.me, !at.isManager)
  const exposure = useDerived(at.records, (board) => exposureOn(withHandMinutes(board, works), at.me, at.today), [
    at.me,
    at.today,
    works,
  ])
  if (!person || at.isManager) return null
  return (
    <div className="flex flex-wrap items-center gap-x-6 gap-y-2 border-y border-line py-2 mb-4">
      <Link className={buttonClass('line')} href={`/crew?person=${person.id}`}>
        My skills and days
      </Link>
      {exposure ? <ExposureLine exposure={exposure} /> : null}
    </div>
  )
}

const Key = memo(function Key() {
  return (
    <Fold title="Key" isOpen className="no-print pt-3">
      <div className="flex flex-wrap gap-x-6 gap-y-2 pb-2">
        <KeyItem figure={<Stool state="free" size={22} />}>expected</KeyItem>
        <KeyItem figure={<Stool state="in" size={22} />}>in</KeyItem>
        <KeyItem figure={<Stool state="late" size={22} />}>late</KeyItem>
        <KeyItem figure={<Stool state="away" size={22} />}>away</KeyItem>
        {([0, 1, 2, 3, 4] as const).map((level) => (
          <KeyItem key={level} figure={<SkillRing level={level} size={22} />}>
            {level} {levelWords[level]}
          </KeyItem>
        ))}
        <WeekKey />
        <KeyItem figure={<ExposureBar done={20} planned={20} action={50} width={56} label="done, planned" />}>
          vibration points done, planned
        </KeyItem>
      </div>
      <p className="text-small text-umber">Published vibration points; local codes decide.</p>
    </Fold>
  )
})

/** Whoever has left, for the manager to take up again. */
const Gone = memo(function Gone({ at }: { readonly at: CrewAt }) {
  const gone = [...at.records.person.values()].filter((one) => !isOfCrew(one))
  if (!at.isManager || gone.length === 0) return null
  return (
    <Fold title={`Researchers and those who left, ${gone.length}`} className="pt-2">
      <Rows label="Researchers and those who left">
        {gone.map((person) => (
          <Row
            key={person.id}
            note={person.isActive ? person.role : `left; ${person.role}`}
            end={
              <Link className={buttonClass('quiet')} href={`/crew?person=${person.id}`}>
                Open
              </Link>
            }
          >
            {person.name} {person.familyName}
          </Row>
        ))}
      </Rows>
    </Fold>
  )
}, paintsFor('person'))
