'use client'
// The crew on a phone or tablet: one row a person. The stool ticks, the rest of the row opens the person; nine rings
// say the ladder at a glance, the week stands beneath.
import Link from 'next/link'
import { memo } from 'react'
import { type CrewRow, skillsOf, techniqueColumns, type WeekDay } from '#lib/views'
import { paintsFor } from '../_board/index.ts'
import { SkillRing } from '../_parts/figures/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { type MatrixProps, noWeek } from './matrix.tsx'
import { TickStool } from './tick.tsx'
import type { CrewAt } from './use-crew-at.ts'
import { WeekSquares } from './week.tsx'
import { sayPresence, saySkills } from './words.ts'

/** Those of the shift, then the others. */
export function CrewRows({ at, rows, weeks }: MatrixProps) {
  const inShift = rows.filter((row) => row.presence !== null)
  const others = rows.filter((row) => row.presence === null)
  return (
    <>
      <List at={at} rows={inShift} weeks={weeks} label="In this shift" />
      {others.length === 0 ? null : (
        <>
          <h2 className="heading border-b-[1.5px] border-ink pt-6 pb-1 text-section">Not in this shift</h2>
          <List at={at} rows={others} weeks={weeks} label="Not in this shift" />
        </>
      )}
    </>
  )
}

function List({ at, rows, weeks, label }: MatrixProps & { readonly label: string }) {
  return (
    // biome-ignore lint/a11y/noRedundantRoles: Safari forgets a list without bullets unless it is told
    <ul role="list" aria-label={label} className="tablet:columns-1">
      {rows.map((row) => (
        <PersonLine key={row.person.id} at={at} row={row} week={weeks.get(row.person.id) ?? noWeek} />
      ))}
    </ul>
  )
}

const PersonLine = memo(
  function PersonLine({ at, row, week }: PersonLineProps) {
    const { person, presence, placeCode } = row
    const { ladder } = techniqueColumns(at.records.lab.get('lab'))
    const views = skillsOf(at.records, person, ladder, at.today)
    const asks = [...at.records.signOffAsk.values()].some((ask) => ask.personId === person.id)
    return (
      <li className="flex items-start gap-2 border-b border-line py-1.5">
        <TickStool at={at} row={row} />
        <Link
          href={`/crew?person=${person.id}`}
          className="grid min-h-14 min-w-0 flex-1 grid-cols-[minmax(0,1fr)_auto] items-center gap-x-3"
        >
          <span className="min-w-0">
            <span className="font-strong text-say">{person.name}</span>
            <span className="block text-small text-umber">
              {person.role}
              {presence ? `, ${sayPresence(row)}` : ''}
            </span>
          </span>
          <span className="flex items-center gap-2 font-strong">
            {asks ? <Mark name="question" size={20} label="asks for a sign-off" /> : null}
            {placeCode}
            <Mark name="unfold" size={18} className="-rotate-90 text-umber" />
          </span>
          <span className="col-span-2 flex flex-wrap items-center justify-between gap-x-4 pt-1">
            <span className="sr-only">{saySkills(views)}</span>
            <span className="flex" aria-hidden="true">
              {views.map((view) => (
                <SkillRing
                  key={view.technique.id}
                  level={view.level}
                  size={15}
                  label={`${view.technique.short} ${view.level}`}
                />
              ))}
            </span>
            <WeekSquares week={week} isSmall />
          </span>
        </Link>
      </li>
    )
  },
  paintsFor('signOffAsk', 'lab'),
)

type PersonLineProps = { readonly at: CrewAt; readonly row: CrewRow; readonly week: readonly WeekDay[] }
