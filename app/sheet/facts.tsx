'use client'
// What the piece is: where it was found, what it belongs to, what it is prepared for, how large and heavy. One list to
// read, one form to change it.
import Link from 'next/link'
import type { ReactNode } from 'react'
import type { RecordOf } from '#lib/words'
import { DialogButton, FieldNumber, FoldingSection } from '../_parts/controls/index.ts'
import { capital, sayDate, sayMass, sayMetres, sayPurpose } from '../_text/index.ts'
import { JacketForm, SpecimenForm } from './facts-form.tsx'
import type { SheetAt } from './sheet-at.ts'
import { sayContainer } from './words.ts'

type Fact = readonly [word: string, value: ReactNode]

/** The list, and its form for staff. */
export function Facts({ at }: { readonly at: SheetAt }) {
  const { specimen, jacket, piece } = at.sheet
  const size = `${sayMetres(piece.lengthM)} × ${sayMetres(piece.widthM)} × ${sayMetres(piece.heightM)}`
  const facts: readonly Fact[] = [
    ...(specimen ? specimenFacts(at) : []),
    ...(jacket ? jacketFacts(at) : []),
    ['Locality', piece.locality],
    ['Horizon', piece.horizon],
    ['Size', size],
    ['Mass', sayMass(piece.mass)],
    ['Estimated', piece.mass.from ? sayEstimate(piece.mass.from) : ''],
    ['On the rack', piece.standsDespite ?? ''],
    ['Shelf', piece.shelf],
    ['Tied', piece.isTied ? 'cannot be moved for now' : ''],
    ['Note', piece.note],
  ]
  return (
    <FoldingSection id="facts" title="What it is" brief={size}>
      <dl>
        {facts
          .filter(([, value]) => value !== '' && value !== null)
          .map(([word, value]) => (
            <div key={word} className="flex items-baseline gap-3 border-b border-line py-2">
              <dt className="w-32 flex-none text-small text-umber">{word}</dt>
              <dd className="min-w-0 flex-1 whitespace-pre-wrap">{value}</dd>
            </div>
          ))}
      </dl>
      {at.isStaff ? (
        <DialogButton word="Change…" label="Change what it is" title={at.sheet.number} className="no-print mt-3">
          {(close) =>
            specimen ? (
              <SpecimenForm specimen={specimen} onDone={close} />
            ) : jacket ? (
              <JacketForm jacket={jacket} onDone={close} />
            ) : null
          }
        </DialogButton>
      ) : null}
    </FoldingSection>
  )
}

function specimenFacts(at: SheetAt): readonly Fact[] {
  const { specimen, from } = at.sheet
  if (!specimen) return []
  return [
    [
      'Catalogue number',
      specimen.catalogueNumber === '' ? '' : <FieldNumber key="catalogue">{specimen.catalogueNumber}</FieldNumber>,
    ],
    ['Came from', from ? <PieceLink key={from.id} id={from.id} number={from.fieldNumber} /> : ''],
    ['Animal', specimen.taxon ?? ''],
    ['Part', specimen.element ?? ''],
    ['Prepared', sayPurpose(specimen.purpose)],
    ['Side to see', specimen.side],
    ['Stop line', specimen.stopLine],
    ['Fragile', specimen.fragile],
    ['Care', specimen.isPriority ? 'delicate or urgent: level 3 and above' : ''],
  ]
}

function jacketFacts(at: SheetAt): readonly Fact[] {
  const { jacket, specimens } = at.sheet
  if (!jacket) return []
  return [
    ['Came as', capital(sayContainer(jacket))],
    [
      'Out of it',
      specimens.length === 0 ? '' : specimens.map((one) => <PieceLink key={one.id} id={one.id} number={one.number} />),
    ],
    ['Collected', jacket.collectedOn === null ? '' : sayDate(jacket.collectedOn, 'full')],
    ['Collector', jacket.collector],
    ['Face up', jacket.faceUp ?? ''],
    ['Sketch', jacket.sketchNote ?? ''],
    ['Field notes', jacket.fieldNotes ?? ''],
    ['Hazards', [...jacket.hazards, jacket.hazardNote ?? ''].filter((one) => one !== '').join(', ')],
    ['Permit', jacket.permit ?? ''],
    ['Whose it is', jacket.owner ?? ''],
    ['Season', jacket.isInSeason ? 'chosen for this season' : 'not chosen for this season'],
  ]
}

/** What the range of mass was counted from. */
const sayEstimate = (from: NonNullable<RecordOf<'jacket'>['mass']['from']>): string =>
  `from ${from.rock === '' ? 'unknown rock' : from.rock}, ${from.lowKgM3} to ${from.highKgM3} kg/m³${from.plasterMm > 0 ? `, ${from.plasterMm} mm of plaster` : ''}`

function PieceLink({ id, number }: { readonly id: string; readonly number: string }) {
  return (
    <Link href={`/sheet/${id}`} className="mr-3 inline-block -my-3 py-3 underline underline-offset-4">
      <FieldNumber>{number}</FieldNumber>
    </Link>
  )
}
