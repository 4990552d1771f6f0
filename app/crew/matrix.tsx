'use client'
// The skills matrix: one row a person, one column a technique, gentlest first. Rings say the level; the week and, for
// the manager, the day's vibration stand at the right. A person's row opens from their name or a press anywhere on it.
import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { memo } from 'react'
import {
  type CrewExposure,
  type CrewRow,
  exposureOn,
  type SkillView,
  skillsOf,
  techniqueColumns,
  type WeekDay,
  withHandMinutes,
} from '#lib/views'
import type { PersonId, Technique } from '#lib/words'
import { paintsFor, useDerived } from '../_board/index.ts'
import { ExposureBar, SkillRing } from '../_parts/figures/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { useShared } from '../_parts/shared.ts'
import { sayDate, sayPoints } from '../_text/index.ts'
import { techniqueMark } from '../mine/cautions.ts'
import { useHandMinutes } from '../safety/use-hand-minutes.ts'
import { TickStool } from './tick.tsx'
import type { CrewAt } from './use-crew-at.ts'
import { WeekSquares } from './week.tsx'
import { sayExpiry, sayLevelLong, sayPresence } from './words.ts'

export type MatrixProps = {
  readonly at: CrewAt
  readonly rows: readonly CrewRow[]
  readonly weeks: ReadonlyMap<PersonId, readonly WeekDay[]>
}

export const noWeek: readonly WeekDay[] = []

/** The table. */
export function Matrix({ at, rows, weeks }: MatrixProps) {
  const { isManager, today } = at
  const { ladder, apart } = useDerived(at.records, (board) => techniqueColumns(board.lab.get('lab')), [])
  const people = useShared(rows.map((row) => row.person.id))
  const { works } = useHandMinutes(at.records, null, isManager)
  const exposures = useDerived(
    at.records,
    (board) => {
      const told = withHandMinutes(board, works)
      return new Map(isManager ? people.map((id) => [id, exposureOn(told, id, today)]) : [])
    },
    [isManager, people, today, works],
  )
  const week = (rows[0] && weeks.get(rows[0].person.id)) ?? noWeek
  return (
    <div className="matrix-frame">
      <table className="matrix">
        <caption className="sr-only">The crew: presence, skill levels, week{at.isManager ? ', vibration' : ''}</caption>
        <thead>
          <tr>
            <th scope="col" className="matrix-who" colSpan={2}>
              <span className="sr-only">Person</span>
            </th>
            {ladder.map((technique) => (
              <TechniqueHead key={technique.id} technique={technique} />
            ))}
            {apart.map((technique, index) => (
              <TechniqueHead key={technique.id} technique={technique} isFirst={index === 0} />
            ))}
            <th scope="col" className="matrix-week">
              <span className="sr-only">Week</span>
              <span className="flex" aria-hidden="true">
                {week.map((day) => (
                  <span key={day.date} className={`w-[26px] text-center ${day.isToday ? 'font-strong' : ''}`}>
                    {sayDate(day.date, 'brief').slice(0, 1)}
                  </span>
                ))}
              </span>
            </th>
            {at.isManager ? (
              <th scope="col" className="matrix-points">
                Vibration today, points
              </th>
            ) : null}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <PersonRow
              key={row.person.id}
              at={at}
              row={row}
              ladder={ladder}
              apart={apart}
              week={weeks.get(row.person.id) ?? noWeek}
              exposure={exposures.get(row.person.id) ?? null}
            />
          ))}
        </tbody>
      </table>
    </div>
  )
}

function TechniqueHead({
  technique,
  isFirst = false,
}: {
  readonly technique: Readonly<Technique>
  readonly isFirst?: boolean
}) {
  return (
    <th scope="col" className={isFirst ? 'matrix-apart' : undefined} title={technique.name}>
      <span className="matrix-word">{technique.short}</span>
      <Mark name={techniqueMark(technique)} size={20} className="mx-auto" />
    </th>
  )
}

type PersonRowProps = {
  readonly at: CrewAt
  readonly row: CrewRow
  readonly ladder: readonly Readonly<Technique>[]
  readonly apart: readonly Readonly<Technique>[]
  readonly week: readonly WeekDay[]
  readonly exposure: CrewExposure | null
}

const PersonRow = memo(function PersonRow({ at, row, ladder, apart, week, exposure }: PersonRowProps) {
  const router = useRouter()
  const { person, presence, placeCode } = row
  const href = `/crew?person=${person.id}`
  const views = (techniques: readonly Readonly<Technique>[]) => skillsOf(at.records, person, techniques, at.today)
  const told = presence && presence.state !== 'in' ? `, ${sayPresence(row)}` : ''
  return (
    // The name in the row is the link; a press elsewhere on the row is an extra for the mouse.
    <tr
      className={`${presence ? '' : 'matrix-out'} ${person.id === at.me ? 'matrix-me' : ''}`}
      onClick={(event) => {
        if (event.target instanceof Element && event.target.closest('a, button') === null) router.push(href)
      }}
    >
      <td className="matrix-tick">
        <TickStool at={at} row={row} />
      </td>
      <th scope="row" className="matrix-name">
        <Link href={href} className="flex min-h-11 items-center gap-2">
          <span className="min-w-0 flex-1">
            <span className="block font-strong">{person.name}</span>
            <span className="block text-small font-plain text-umber">
              {person.role}
              {told}
            </span>
          </span>
          <span className="font-strong">{placeCode}</span>
        </Link>
      </th>
      {views(ladder).map((view) => (
        <SkillCell key={view.technique.id} view={view} />
      ))}
      {views(apart).map((view, index) => (
        <SkillCell key={view.technique.id} view={view} isFirst={index === 0} />
      ))}
      <td className="matrix-week">
        <WeekSquares week={week} />
      </td>
      {at.isManager ? <PointsCell exposure={exposure} /> : null}
    </tr>
  )
}, paintsFor('signOffAsk'))

function SkillCell({ view, isFirst = false }: { readonly view: SkillView; readonly isFirst?: boolean }) {
  const { technique, level, isOut, isSoonOut, ask } = view
  const more = [isOut || isSoonOut ? sayExpiry(view) : '', ask ? 'asks for a sign-off' : ''].filter(Boolean).join(', ')
  return (
    <td className={`matrix-skill ${isFirst ? 'matrix-apart' : ''}`}>
      <span className="relative inline-grid place-items-center">
        <SkillRing
          level={level}
          size={22}
          label={`${technique.short}: ${sayLevelLong(level)}${more === '' ? '' : `, ${more}`}`}
        />
        {isOut || isSoonOut || ask ? (
          <Mark name={ask ? 'question' : 'clock'} size={18} className="matrix-flag" />
        ) : null}
      </span>
    </td>
  )
}

function PointsCell({ exposure }: { readonly exposure: CrewExposure | null }) {
  if (!exposure) return <td className="matrix-points" />
  const { donePoints, plannedPoints, limit, unknown } = exposure
  const sum = donePoints + plannedPoints
  return (
    <td className="matrix-points">
      <span className="flex items-center gap-2">
        <ExposureBar
          done={donePoints}
          planned={plannedPoints}
          action={limit}
          width={116}
          none={unknown.length > 0 ? 'not counted' : 'none planned'}
          label={`${sayPoints(sum, limit)}, ${Math.round(donePoints)} of them done`}
        />
        <span className="w-8 text-right font-strong" aria-hidden="true">
          {sum > 0 ? Math.round(sum) : ''}
        </span>
        {unknown.length > 0 ? (
          <Mark name="why" size={18} label={`not counted, no figure: ${unknown.join(', ')}`} />
        ) : null}
      </span>
    </td>
  )
}
