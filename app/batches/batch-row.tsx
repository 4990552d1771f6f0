'use client'
// One batch as a row, in use or ended.
import Link from 'next/link'
import type { RecordOf } from '#lib/words'
import { FieldNumber, Row } from '../_parts/controls/index.ts'
import { numberBatch, sayContents, sayDate, sayStrength } from '../_text/index.ts'
import { type CrewAt, nameIn } from '../crew/use-crew-at.ts'

type Batch = RecordOf<'batch'>
type BatchRowProps = { readonly at: CrewAt; readonly batch: Batch; readonly isChosen: boolean }

/** What it is, how strong, of when and until when; its address leads to all of it. */
export function BatchRow({ at, batch, isChosen }: BatchRowProps) {
  const isOver = batch.expiresOn !== null && batch.expiresOn < at.today
  return (
    <Row
      height="list"
      isChosen={isChosen}
      isDone={batch.ended !== null}
      lead={<FieldNumber className="whitespace-nowrap">{numberBatch(batch.number)}</FieldNumber>}
      note={[
        batch.strength === null ? '' : sayStrength(batch.strength),
        `made ${sayDate(batch.madeOn, 'short')} by ${nameIn(at.records, batch.by)}`,
        batch.ended === null ? '' : `${batch.ended.why} ${sayDate(batch.ended.on, 'short')}`,
      ]
        .filter((one) => one !== '')
        .join(', ')}
      end={
        isOver && batch.ended === null ? (
          <span>ran out {sayDate(batch.expiresOn ?? '', 'short')}</span>
        ) : batch.expiresOn === null || batch.ended !== null ? undefined : (
          <span className="font-plain">until {sayDate(batch.expiresOn, 'short')}</span>
        )
      }
    >
      <Link className="-my-2 inline-block py-3 underline underline-offset-4" href={`/batches?batch=${batch.id}`}>
        {contentsOf(at, batch)}
      </Link>
    </Row>
  )
}

/** Acrylic resin in acetone. */
export function contentsOf({ records }: CrewAt, { materialId, solventId }: Batch): string {
  const nameOf = (id: string | null) => (id === null ? undefined : records.material.get(id)?.name)
  return sayContents({ material: nameOf(materialId) ?? 'something', solvent: nameOf(solventId) ?? '' })
}
