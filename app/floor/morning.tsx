'use client'
// The margin beside the plan when nothing is chosen: one sentence for the shift, what wants somebody, what is dated
// and at risk. Each want has one act; the act is done here or leads to the place where it can be.
import Link from 'next/link'
import { memo } from 'react'
import { datedOf, type Floor, headcountOf } from '#lib/views'
import { paintsFor, useWho } from '../_board/index.ts'
import { FieldNumber, Row, Rows, Section } from '../_parts/controls/index.ts'
import { chanceWords } from '../_parts/figures/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { later } from '../_shell/later.tsx'
import { sayDate, sayMoment } from '../_text/index.ts'
import { useChances } from './use-chances.ts'
import type { FloorAt } from './use-floor.ts'
import { Wants } from './wants.tsx'
import { guestSentence, morningSentence, partHeading } from './words.ts'

const RoomClocks = later(async () => (await import('../clocks/clocks-section.tsx')).RoomClocks)

const MOST_DATED = 5

/** "This morning", "Wants you", "Dated and at risk". */
export function Morning({ at, floor }: { readonly at: FloorAt; readonly floor: Floor }) {
  const day = at.records.day.get(at.date)
  const isPosted = day !== undefined
  const isGuest = useWho()?.role === 'researcher'
  const count = headcountOf(floor)
  const poster = day ? at.records.person.get(day.postedBy)?.name : undefined
  return (
    <div className="flex flex-col gap-6">
      <Section title={partHeading(at.shift?.name ?? '', at.isToday)}>
        <p className="named pt-2 text-say">
          {isGuest
            ? guestSentence(count.seated, at.isPast)
            : morningSentence(count, { isPosted, isToday: at.isToday, isPast: at.isPast })}
        </p>
        {day ? (
          <p className="pt-1 text-small text-umber">
            Posted {sayMoment(day.postedAt, at.records.lab.get('lab')?.zone ?? 'UTC', at.today)}
            {poster ? ` by ${poster}` : ''}
            {day.times > 1 ? `, the ${ordinal(day.times)} time` : ''}.
          </p>
        ) : null}
        {day?.note ? <p className="named mt-2 border-l border-line pl-3 whitespace-pre-wrap">{day.note}</p> : null}
      </Section>
      {at.isPast ? null : <Wants at={at} floor={floor} />}
      {at.isToday ? <RoomClocks /> : null}
      <Dated at={at} />
    </div>
  )
}

const Dated = memo(
  function Dated({ at }: { readonly at: FloorAt }) {
    const chances = useChances(at.records, at.today)
    const dated = datedOf(at.records, at.today, chances)
    if (dated.length === 0) return null
    const risky = dated.filter((tag) => tag.isAtRisk)
    const shown = (risky.length > 0 ? risky : dated).slice(0, MOST_DATED)
    return (
      <Section
        title={risky.length > 0 ? 'Dated and at risk' : 'Dated'}
        aside={risky.length > 0 ? `${risky.length} of ${dated.length}` : dated.length}
      >
        <Rows>
          {shown.map((tag) => (
            <Row
              key={tag.pieceId}
              lead={<Mark name={tag.isAtRisk ? 'undercut' : 'plumb'} size={20} />}
              note={tag.due ? `due ${sayDate(tag.due.date, 'short')}` : ''}
              end={tag.due && tag.due.tenths !== null ? chanceWords(tag.due.tenths) : ''}
            >
              <Link href={`/sheet/${tag.pieceId}`} className="-my-3 inline-block py-3 hover:underline">
                <FieldNumber>{tag.number}</FieldNumber> <span className="named">{tag.name}</span>
              </Link>
            </Row>
          ))}
        </Rows>
      </Section>
    )
  },
  paintsFor('due', 'specimen', 'jacket', 'step', 'lab'),
)

const ordinal = (n: number): string => ['first', 'second', 'third', 'fourth', 'fifth'][n - 1] ?? `${n}th`
