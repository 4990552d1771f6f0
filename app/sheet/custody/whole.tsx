'use client'
// What the Sheet holds beside the work: how the piece was judged, what it belongs to, how it is housed, whose hands it
// is in. Loaded after the Sheet has painted.
import type { RecordOf, Records } from '#lib/words'
import { DialogButton, FoldingSection, Notice } from '../../_parts/controls/index.ts'
import { nameRating, type RatingName, sayRating } from '../../_text/index.ts'
import { momentOf, nameOf, type SheetAt, techniqueName } from '../sheet-at.ts'
import { AssessForm, sayMeant } from './assess-form.tsx'
import { HandOver } from './hand-over.tsx'
import { Housings } from './housings.tsx'
import { Relations } from './relations.tsx'
import './custody.css'

/** All four parts. */
export default function Whole({ at }: { readonly at: SheetAt }) {
  return (
    <>
      <Assessments at={at} />
      <Relations at={at} />
      <Housings at={at} />
      <HandOver at={at} />
    </>
  )
}

type Assessment = RecordOf<'assessment'>

/** The assessments of a piece, newest first. */
function assessmentsOf(records: Records, pieceId: string): readonly Assessment[] {
  return [...records.assessment.values()]
    .filter((one) => one.pieceId === pieceId)
    .toSorted((a, b) => (a.at < b.at || (a.at === b.at && a.id < b.id) ? 1 : -1))
}

function Assessments({ at }: { readonly at: SheetAt }) {
  const all = assessmentsOf(at.records, at.sheet.id)
  const last = all[0] ?? null
  return (
    <FoldingSection
      id="assessments"
      title="Assessments"
      brief={last ? `${all.length > 1 ? `${all.length}, the last ` : ''}${momentOf(at, last.at)}` : 'none yet'}
      aside={all.length > 0 ? `${all.length}` : undefined}
    >
      {all.length === 0 ? (
        <Notice kind="empty">
          {at.sheet.specimen
            ? 'No assessment yet. It was rated when it was entered: see Rock and bone.'
            : 'Nobody has assessed what is in it yet.'}
        </Notice>
      ) : (
        // biome-ignore lint/a11y/noRedundantRoles: Safari forgets a list without bullets unless it is told
        <ul role="list" aria-label="Assessments, newest first">
          {all.map((one) => (
            <AssessmentRow key={one.id} at={at} one={one} former={all.find(({ id }) => id === one.former) ?? null} />
          ))}
        </ul>
      )}
      {at.isStaff ? (
        <DialogButton
          kind={last ? 'line' : 'ink'}
          word={last ? 'Assess again…' : 'Assess…'}
          title={`Assess ${at.sheet.number}`}
          className="no-print mt-3"
        >
          {(close) => <AssessForm at={at} last={last} onDone={close} />}
        </DialogButton>
      ) : null}
    </FoldingSection>
  )
}

type AssessmentRowProps = { readonly at: SheetAt; readonly one: Assessment; readonly former: Assessment | null }

function AssessmentRow({ at, one, former }: AssessmentRowProps) {
  const guess = [one.element, one.taxon].filter((word) => word !== '').join(', ')
  const lines = former === null ? firstWords(at, one) : changes(at, former, one)
  return (
    <li className="border-b border-line py-2">
      <p className="text-small text-umber">
        {momentOf(at, one.at)}, {nameOf(at, one.by)}, {one.why}
      </p>
      {guess === '' ? null : <p className="font-firm">{guess}</p>}
      <p>{lines.length === 0 ? 'As before.' : `${lines.join('; ')}.`}</p>
      {one.note === '' ? null : <p className="whitespace-pre-wrap">{one.note}</p>}
      {one.meant.map((meant) => (
        <p key={meant.dueId} className="text-small text-umber">
          {sayMeant(meant)}
        </p>
      ))}
    </li>
  )
}

const rated: readonly RatingName[] = ['rockHardness', 'contrast', 'soundness', 'breakage']

function firstWords(at: SheetAt, one: Assessment): readonly string[] {
  return [
    ...rated.map((name) => `${nameRating(name)}: ${sayRating(name, one[name])}`),
    `no stronger than ${techniqueName(at, one.forceCeiling)}`,
    ...(one.toExposeCm2 > 0 ? [`${one.toExposeCm2} cm² to expose`] : []),
  ]
}

/** What was judged differently. */
function changes(at: SheetAt, was: Assessment, is: Assessment): readonly string[] {
  const told = (word: string, before: string, after: string) =>
    before === after ? [] : [`${word}: ${before === '' ? 'nothing' : before} → ${after === '' ? 'nothing' : after}`]
  return [
    ...rated.flatMap((name) => told(nameRating(name), sayRating(name, was[name]), sayRating(name, is[name]))),
    ...told('Shows', `${was.exposedCm2} cm²`, `${is.exposedCm2} cm²`),
    ...told('To expose', `${was.toExposeCm2} cm²`, `${is.toExposeCm2} cm²`),
    ...told('Animal', was.taxon, is.taxon),
    ...told('Part', was.element, is.element),
    ...told('Prepared for', was.purpose, is.purpose),
    ...told('Side to see', was.side, is.side),
    ...told('Stop line', was.stopLine, is.stopLine),
    ...told('No stronger than', techniqueName(at, was.forceCeiling), techniqueName(at, is.forceCeiling)),
  ]
}
