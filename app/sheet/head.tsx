'use client'
// The head of a Sheet: the number as a poster, the name, and the three things asked first: when is it due, how gently,
// where is it and who is on it.
import type { ReactNode } from 'react'
import { sheetSteps } from '#lib/views'
import { ForceComb } from '../_parts/figures/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { sayChance } from '../_text/index.ts'
import { useChances } from '../floor/use-chances.ts'
import { techniqueMark } from '../mine/cautions.ts'
import { CeilingButton } from './ceiling.tsx'
import { ladderOf, nameOf, type SheetAt, techniqueIn, techniqueName } from './sheet-at.ts'
import { stepsOfNow } from './steps.tsx'
import { sayContainer, sayOn, sayShort, sayWhere } from './words.ts'

/** Number, name, and the first answers. */
export function Head({ at }: { readonly at: SheetAt }) {
  const { sheet } = at
  const { piece, jacket } = sheet
  const from = [piece.locality, piece.horizon].filter((part) => part !== '').join(', ')
  return (
    <header className="sheet-head">
      <h1 className="min-w-0">
        <span className="inked block text-title tablet:text-number">{sheet.number}</span>
        <span className="named block pt-1 text-section tablet:text-page">
          {sheet.name === '' ? (jacket ? `${sayContainer(jacket)}, contents unknown` : 'Without a name') : sheet.name}
          {from === '' ? null : <span className="text-say text-umber"> from {from}</span>}
        </span>
      </h1>
      <dl className="sheet-answers">
        <DueAnswer at={at} />
        {sheet.specimen ? <CeilingAnswer at={at} /> : null}
        <WhereAnswer at={at} />
        <StepAnswer at={at} />
      </dl>
    </header>
  )
}

/** What is done on it, or comes next; beside a whole list of steps it would be said twice. */
function StepAnswer({ at }: { readonly at: SheetAt }) {
  const [first] = stepsOfNow(sheetSteps(at.records, at.sheet.id).rows)
  if (!first) return null
  return (
    <Answer word={first.step.state === 'begun' ? 'now' : 'next'} className="answer-step desk:hidden print:hidden">
      {first.technique ? <Mark name={techniqueMark(first.technique)} size={22} /> : null}
      {[first.step.title, first.technique?.name.toLowerCase()].filter(Boolean).join(', ')}
    </Answer>
  )
}

type AnswerProps = { readonly word: string; readonly children: ReactNode; readonly className?: string }

function Answer({ word, children, className }: AnswerProps) {
  return (
    <div className={className}>
      <dt className="text-small text-umber">{word}</dt>
      <dd className="flex min-h-11 items-center gap-2 font-strong">{children}</dd>
    </div>
  )
}

function DueAnswer({ at }: { readonly at: SheetAt }) {
  const chances = useChances(at.records, at.today)
  const { due } = at.sheet
  const tenths = chances.get(at.sheet.id)
  const line = at.records.lab.get('lab')?.riskBelowTenths ?? 7
  if (!due) return <Answer word="due">no date</Answer>
  const isAtRisk = tenths !== undefined && tenths < line
  return (
    <Answer word="due">
      <Mark name={isAtRisk ? 'undercut' : 'plumb'} size={22} label={isAtRisk ? 'at risk' : 'dated'} />
      {sayShort(due.date, at.today)}
      {tenths === undefined ? '' : `, ${sayChance(tenths / 10)}`}
    </Answer>
  )
}

function CeilingAnswer({ at }: { readonly at: SheetAt }) {
  const { specimen, escalations, today } = at.sheet
  const ladder = ladderOf(at)
  const top = ladder.findIndex((one) => one.id === specimen?.forceCeiling)
  if (!specimen || top < 0) return null
  const open = escalations.filter((one) => one.endedAt === null)
  const nowId = (today.find((turn) => turn.when === 'now') ?? today.find((turn) => turn.when === 'next'))?.techniqueId
  const now = ladder.findIndex((one) => one.id === nowId)
  const name = techniqueIn(at, specimen.forceCeiling)?.name.toLowerCase() ?? ''
  return (
    <Answer word="force ceiling" className="answer-ceiling">
      <ForceComb
        count={ladder.length}
        ceiling={top}
        now={now >= 0 ? now : undefined}
        words={`no stronger than ${name}`}
      />
      {open.length === 0 ? null : (
        <span className="text-small">
          and {open.map((one) => techniqueName(at, one.techniqueId)).join(', ')}, escalated
        </span>
      )}
      {at.isStaff ? <CeilingButton at={at} specimen={specimen} /> : null}
    </Answer>
  )
}

function WhereAnswer({ at }: { readonly at: SheetAt }) {
  const { piece, today } = at.sheet
  const shifts = at.records.lab.get('lab')?.shifts ?? []
  const code = (piece.placeId && at.records.place.get(piece.placeId)?.code) || null
  const on = sayOn(today, {
    person: (id) => nameOf(at, id),
    place: (id) => at.records.place.get(id)?.code ?? '',
    shift: (id) => shifts.find((one) => one.id === id)?.name ?? '',
  })
  return (
    <>
      <Answer word="at">{sayWhere(code, piece.shelf)}</Answer>
      {on === '' ? null : <Answer word="on it">{on}</Answer>}
    </>
  )
}
