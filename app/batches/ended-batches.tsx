'use client'
// Batches that are used up or put away: off the shelf and out of the list of those in use, found by number, stuff, lot
// or maker, since a treatment years ago names them.
import { useState } from 'react'
import { Notice, Rows, SearchField, Section } from '../_parts/controls/index.ts'
import { numberBatch } from '../_text/index.ts'
import { type CrewAt, nameIn } from '../crew/use-crew-at.ts'
import { BatchRow, contentsOf } from './batch-row.tsx'

const SHOWN = 10

type EndedProps = { readonly at: CrewAt; readonly chosenId: string | null }

/** The section; nothing where no batch has ended. */
export function EndedBatches({ at, chosenId }: EndedProps) {
  const [wanted, setWanted] = useState('')
  const all = [...at.records.batch.values()].filter((one) => one.ended !== null).toSorted((a, b) => b.number - a.number)
  if (all.length === 0) return null
  const words = wanted.toLowerCase().split(/\s+/).filter(Boolean)
  const found = all.filter((one) => {
    const { number, lot, solventLot, madeOn, by, note } = one
    const said = [
      numberBatch(number),
      String(number),
      contentsOf(at, one),
      lot,
      solventLot,
      madeOn,
      nameIn(at.records, by),
      note,
    ]
    const text = said.join(' ').toLowerCase()
    return words.every((word) => text.includes(word))
  })
  const shown = found.slice(0, SHOWN)
  return (
    <Section id="ended" title="Ended batches" aside={`${all.length}`}>
      {all.length > SHOWN ? <SearchField label="Number, stuff, lot, who" value={wanted} onValue={setWanted} /> : null}
      {found.length === 0 ? <Notice kind="empty">No ended batch has these words.</Notice> : null}
      <Rows label="Ended batches, the newest first">
        {shown.map((one) => (
          <BatchRow key={one.id} at={at} batch={one} isChosen={one.id === chosenId} />
        ))}
      </Rows>
      {found.length > shown.length ? (
        <p className="pt-2 text-small text-umber">{found.length - shown.length} older ones; more words find them.</p>
      ) : null}
    </Section>
  )
}
