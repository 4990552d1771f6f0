'use client'
// Which bottle: those in use, by the number on their label.
import { batchesInUse, jarOf } from '#lib/rules'
import type { RecordOf, Records } from '#lib/words'
import { Select } from '../_parts/controls/index.ts'
import { capital, numberBatch, sayContents, sayStrength } from '../_text/index.ts'

type ChooseBatchProps = {
  readonly records: Records
  /** Only batches of such materials. */
  readonly of: readonly RecordOf<'material'>['what'][]
  readonly value: string
  /** The choice for a jar that is no batch here. */
  readonly none: string
  readonly onValue: (batchId: string) => void
}

/** Nothing where the lab keeps no such batch. */
export function ChooseBatch({ records, of, value, none, onValue }: ChooseBatchProps) {
  const batches = batchesInUse(records).filter((one) => {
    const what = records.material.get(one.materialId)?.what
    return what !== undefined && of.includes(what)
  })
  if (batches.length === 0) return null
  return (
    <Select
      label="From batch"
      value={batches.some(({ id }) => id === value) ? value : ''}
      onValue={onValue}
      choices={[
        { value: '', label: none },
        ...batches.map((one) => ({ value: one.id, label: labelOf(records, one.id) })),
      ]}
    />
  )
}

function labelOf(records: Records, batchId: string): string {
  const jar = jarOf(records, batchId)
  if (!jar) return ''
  const strength = jar.strength === null ? '' : `, ${sayStrength(jar.strength)}`
  return `${numberBatch(jar.number)} ${capital(sayContents(jar))}${strength}`
}
