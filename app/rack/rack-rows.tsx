'use client'
// The rows, sixty at a time: more come as one nears the end, so that thousands cost no more than a screenful.
import Link from 'next/link'
import { memo, useEffect, useRef, useState } from 'react'
import type { Fit } from '#lib/rules'
import { type RackRow, wayToOffer } from '#lib/views'
import type { RecordOf, Records, ShiftId } from '#lib/words'
import { Button, FieldNumber } from '../_parts/controls/index.ts'
import { ForceComb } from '../_parts/figures/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { Stone } from '../_parts/stone/index.ts'
import { capital, sayDate, sayHours, sayKg, sayMetres } from '../_text/index.ts'
import { ActButton } from '../mine/act-button.tsx'
import { sayNotYet } from './not-yet.ts'
import { WhoHasIt } from './who-has-it.tsx'

const PAGE = 60

type RackRowsProps = {
  readonly records: Records
  readonly rows: readonly RackRow[]
  readonly fits: ReadonlyMap<string, Fit>
  readonly claim: RackClaim | null
  /** Who has which piece in the shift one would claim for. */
  readonly turns: ReadonlyMap<string, readonly RecordOf<'assignment'>[]>
}

/** The shift a claim would be for, and who asks. */
type RackClaim = {
  readonly date: string
  readonly shiftId: ShiftId
  readonly shiftName: string
  readonly personId: string
}

/** The list. */
export function RackRows({ records, rows, fits, claim, turns }: RackRowsProps) {
  const [shown, setShown] = useState(PAGE)
  const end = useRef<HTMLDivElement>(null)
  const isMore = shown < rows.length
  useEffect(() => {
    const mark = end.current
    if (!isMore || mark === null) return
    const watcher = new IntersectionObserver(
      (seen) => {
        if (seen.some((entry) => entry.isIntersecting)) setShown((before) => before + PAGE)
      },
      { rootMargin: '600px' },
    )
    watcher.observe(mark)
    return () => watcher.disconnect()
  }, [isMore])
  return (
    <>
      {/* biome-ignore lint/a11y/noRedundantRoles: Safari forgets a list without bullets unless it is told */}
      <ul role="list" aria-label="Waiting" className="border-t border-line desk:grid desk:grid-cols-2 desk:gap-x-10">
        {rows.slice(0, shown).map((row) => (
          <RackItem
            key={row.pieceId}
            records={records}
            row={row}
            fit={fits.get(row.pieceId)}
            claim={claim}
            turns={turns.get(row.pieceId) ?? nobody}
          />
        ))}
      </ul>
      {isMore ? (
        <div ref={end} className="py-4 text-center">
          <Button onClick={() => setShown((before) => before + PAGE)}>Show more of {rows.length}</Button>
        </div>
      ) : null}
    </>
  )
}

const nobody: readonly RecordOf<'assignment'>[] = []

type RackItemProps = {
  readonly records: Records
  readonly row: RackRow
  readonly fit: Fit | undefined
  readonly claim: RackRowsProps['claim']
  readonly turns: readonly RecordOf<'assignment'>[]
}

const RackItem = memo(function RackItem({ records, row, fit, claim, turns }: RackItemProps) {
  const where = row.at === '' ? row.shelf || 'no shelf noted' : `at ${row.at}`
  return (
    // One thing to press in a row: the row itself opens the Sheet, and only a claim stands above it.
    <li className="relative flex gap-4 border-b border-line py-3.5">
      <div className="flex w-20 max-w-[24vw] flex-none flex-col items-center tablet:w-24">
        <Stone seed={row.pieceId} stage={row.stage} size={76} lengthM={row.lengthM} widthM={row.widthM} />
        <span className="mt-1 w-full border-t border-edge pt-0.5 text-center text-small text-umber">
          {sayMetres(row.lengthM)}
        </span>
      </div>
      <div className="min-w-0 flex-1">
        <Link
          href={`/sheet/${row.pieceId}`}
          className="block underline-offset-4 after:absolute after:inset-0 hover:underline"
        >
          <span className="flex flex-wrap items-baseline gap-x-2">
            <FieldNumber className="text-section">{row.number}</FieldNumber>
            <span className="text-small text-umber">{row.stage}</span>
          </span>
          <span className="named block text-say">{row.name || 'contents not noted'}</span>
        </Link>
        <p className="text-small text-umber">
          {where} · {row.isWeighed ? '' : 'about '}
          {sayKg(row.massKg)}
        </p>
        <Next records={records} row={row} />
        {row.dueOn === null ? null : (
          <p className="flex items-center gap-1.5 text-small font-firm">
            <Mark name={row.isAtRisk ? 'undercut' : 'plumb'} size={18} />
            due {sayDate(row.dueOn, 'short')}
            {row.tenths === null ? '' : `, ${row.tenths} in 10`}
          </p>
        )}
        {row.hazards.length === 0 ? null : (
          <p className="flex items-center gap-1.5 text-small font-firm">
            <Mark name="caution" size={18} />
            {row.hazards.join(', ')}
          </p>
        )}
        <Gently records={records} row={row} />
        <WhoHasIt records={records} turns={turns} />
        {claim === null || fit === undefined ? null : <Claim records={records} row={row} fit={fit} claim={claim} />}
      </div>
    </li>
  )
})

/** What it needs next, and how long all of it may take. */
function Next({ records, row }: { readonly records: Records; readonly row: RackRow }) {
  const technique = records.lab.get('lab')?.techniques.find((one) => one.id === row.next?.techniqueId)
  if (!technique) return null
  return (
    <p className="text-small text-umber">
      {capital(technique.short)} next{row.hoursLeft > 0 ? `, about ${sayHours(row.hoursLeft)} in all` : ''}
    </p>
  )
}

/** The ceiling and today's technique, on specimens. */
function Gently({ records, row }: { readonly records: Records; readonly row: RackRow }) {
  const specimen = records.specimen.get(row.pieceId)
  const techniques = records.lab.get('lab')?.techniques ?? []
  if (!specimen) return null
  const now = techniques.find((one) => one.id === row.next?.techniqueId)
  const ladder = techniques.filter((one) => one.force !== null).toSorted((a, b) => (a.force ?? 0) - (b.force ?? 0))
  const ceiling = ladder.findIndex((one) => one.id === specimen.forceCeiling)
  if (ceiling < 0) return null
  const at = ladder.findIndex((one) => one.id === now?.id)
  const words = `to ${ladder[ceiling]?.short ?? ''}`
  return <ForceComb count={ladder.length} ceiling={ceiling} now={at < 0 ? undefined : at} words={words} width={96} />
}

type ClaimProps = {
  readonly records: Records
  readonly row: RackRow
  readonly fit: Fit
  readonly claim: NonNullable<RackRowsProps['claim']>
}

/** Said by the line above it already: who has the piece. */
const told: ReadonlySet<string> = new Set(['has-it', 'piece-elsewhere', 'piece-full'])

/** One press to claim, or what stands against it. */
function Claim({ records, row, fit, claim }: ClaimProps) {
  const way = wayToOffer(records, fit)
  if (way === null) {
    const first = fit.findings[0]
    if (!first || told.has(first.code)) return null
    return (
      <p className="mt-2 flex gap-2 border-l-[3px] border-double border-edge pl-2.5 text-small">
        <Mark name="leftout" size={20} className="flex-none" />
        <span>
          <strong className="font-strong">Not yet.</strong> {sayNotYet(first, records, claim.personId)}
        </span>
      </p>
    )
  }
  const place = records.place.get(way.placeId)
  return (
    <div className="relative z-[1] mt-2 flex w-fit flex-wrap items-center gap-3">
      <ActButton
        word="Claim"
        kind="ink"
        mark="claim"
        label={`Claim ${row.number}`}
        done={`${row.number} is yours, at ${place?.code ?? 'its place'}.`}
        act={{
          kind: 'claim',
          date: claim.date,
          shiftId: claim.shiftId,
          pieceId: row.pieceId,
          stepId: way.stepId,
          placeId: way.placeId,
        }}
      />
      <span className="text-small text-umber">
        at {place?.code}, {claim.shiftName.toLowerCase()}
      </span>
    </div>
  )
}
