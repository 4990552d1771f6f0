'use client'
// The steps of a piece: technique, who, hours done, and what is left of the estimate as a bar from low to high on one
// scale. Staff open a step to change its plan, finish, drop or take it up again.
import { useState } from 'react'
import { type SheetStep, sheetSteps } from '#lib/views'
import { DialogButton, FoldingSection, Notice, useNarrow } from '../_parts/controls/index.ts'
import { HoursBar } from '../_parts/figures/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { sayHours, sayList } from '../_text/index.ts'
import { techniqueMark } from '../mine/cautions.ts'
import { nameOf, type SheetAt } from './sheet-at.ts'
import { StepSheet } from './step-sheet.tsx'
import { sayDone, sayLeft, saySum } from './words.ts'

const MOST_NAMES = 3

/** All steps, in their order; in one column those of now alone until the others are unfolded. */
export function Steps({ at }: { readonly at: SheetAt }) {
  const isNarrow = useNarrow()
  const [isWhole, setWhole] = useState(false)
  const steps = sheetSteps(at.records, at.sheet.id)
  const open = steps.rows.filter((row) => row.isOpen).length
  const now = stepsOfNow(steps.rows)
  const others = steps.rows.filter((row) => !now.includes(row))
  const isShort = isNarrow && !isWhole
  return (
    <FoldingSection
      id="steps"
      title="Steps"
      brief={open > 0 ? null : steps.rows.length === 0 ? 'none planned' : `${steps.rows.length}, none open`}
      aside={steps.rows.length === 0 ? undefined : saySum({ ...steps, count: open })}
    >
      {steps.rows.length === 0 ? (
        <Notice kind="empty">No steps are planned yet, so nobody can be seated at it.</Notice>
      ) : (
        // biome-ignore lint/a11y/noRedundantRoles: Safari forgets a list without bullets unless it is told
        <ul role="list" aria-label="Steps">
          {steps.rows.map((row) => (
            <StepRow
              key={row.step.id}
              at={at}
              row={row}
              scaleH={steps.scaleH}
              isFolded={isShort && now.length > 0 && !now.includes(row)}
            />
          ))}
        </ul>
      )}
      {isNarrow && now.length > 0 && others.length > 0 ? (
        <button
          type="button"
          className="fold-heading no-print font-firm text-umber"
          aria-expanded={isWhole}
          onClick={() => setWhole(!isWhole)}
        >
          {sayOthers(others)}
        </button>
      ) : null}
      {open > 0 && !isShort ? (
        <p className="step-scale text-cap text-umber" aria-hidden="true">
          bars run to {sayHours(steps.scaleH)}
        </p>
      ) : null}
      {at.isStaff ? (
        <DialogButton mark="add" word="Add a step…" title="A new step" className="no-print mt-3">
          {(close) => (
            <StepSheet
              at={at}
              row={null}
              onDone={() => {
                // The new one stands among the folded ones: whoever planned it sees it there.
                setWhole(true)
                close()
              }}
            />
          )}
        </DialogButton>
      ) : null}
    </FoldingSection>
  )
}

/** What is begun, else what comes next. */
export function stepsOfNow(rows: readonly SheetStep[]): readonly SheetStep[] {
  const begun = rows.filter(({ step }) => step.state === 'begun')
  return begun.length > 0 ? begun : rows.filter(({ isOpen }) => isOpen).slice(0, 1)
}

/** The folded ones in a line: 2 done, 6 to come. */
function sayOthers(rows: readonly SheetStep[]): string {
  const toCome = rows.filter(({ isOpen }) => isOpen).length
  const dropped = rows.filter(({ step }) => step.state === 'dropped').length
  const counts = [
    [rows.length - toCome - dropped, 'done'],
    [dropped, 'dropped'],
    [toCome, 'to come'],
  ] as const
  return counts
    .filter(([count]) => count > 0)
    .map(([count, word]) => `${count} ${word}`)
    .join(', ')
}

type StepRowProps = {
  readonly at: SheetAt
  readonly row: SheetStep
  readonly scaleH: number
  readonly isFolded: boolean
}

function StepRow({ at, row, scaleH, isFolded }: StepRowProps) {
  const { step, technique } = row
  const isNow = step.state === 'begun'
  const people = step.by.slice(0, MOST_NAMES).map((one) => nameOf(at, one.personId))
  const more = step.by.length - people.length
  const who = people.length === 0 ? 'nobody yet' : sayList(more > 0 ? [...people, `${more} more`] : people)
  const left = sayLeft(row)
  const hands = step.peopleMin > 1 ? `${step.peopleMin} at once` : ''
  const waits = row.waitsFor.length > 0 ? `after ${sayList(row.waitsFor.map((one) => one.title))}` : ''
  return (
    <li
      className={`step-row ${isNow ? 'row-chosen' : ''} ${row.isOpen ? '' : 'text-umber'} ${isFolded ? 'folded' : ''}`}
    >
      <span className="step-mark">{technique ? <Mark name={techniqueMark(technique)} size={24} /> : null}</span>
      <span className="step-title">
        <span className={`block ${row.isOpen ? 'font-strong' : 'font-firm'}`}>{step.title}</span>
        <span className="block text-small text-umber">
          {[technique?.name.toLowerCase(), hands, waits].filter(Boolean).join(', ')}
        </span>
      </span>
      <span className="step-who">{who}</span>
      <span className="step-done">
        <span className="sr-only">done: </span>
        {sayDone(row.doneH)}
      </span>
      <span className="step-bar">
        {row.isOpen && row.leftHighH > 0 ? (
          <HoursBar lowHours={row.leftLowH} highHours={row.leftHighH} scaleHours={scaleH} label={left} />
        ) : null}
      </span>
      <span className="step-left">{left}</span>
      {at.isStaff ? (
        <span className="step-act no-print">
          <DialogButton kind="quiet" word="Open" label={`Open step ${step.title}`} title={step.title}>
            {(close) => <StepSheet at={at} row={row} onDone={close} />}
          </DialogButton>
        </span>
      ) : null}
    </li>
  )
}
