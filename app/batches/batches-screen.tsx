'use client'
// The bottles in use, the newest first, each with its number as on its label; one of them whole when its address names it,
// as a label does. Under them the lab's list of what may touch a piece.
import Link from 'next/link'
import { useSearchParams } from 'next/navigation'
import { strengthAsWeighed } from '#lib/limits'
import { batchesInUse } from '#lib/rules'
import type { RecordOf } from '#lib/words'
import { usePresence } from '../_board/index.ts'
import {
  Button,
  buttonClass,
  DialogButton,
  FieldNumber,
  Notice,
  PageHeading,
  Rows,
  Section,
} from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { capital, numberBatch, sayDate, sayList, sayStrength } from '../_text/index.ts'
import { NotHere } from '../crew/not-here.tsx'
import { type CrewAt, nameIn, useCrewAt } from '../crew/use-crew-at.ts'
import { BatchRow, contentsOf } from './batch-row.tsx'
import { densitiesOf } from './densities.ts'
import { EndedBatches } from './ended-batches.tsx'
import { MakeForm } from './make-form.tsx'
import { MaterialList } from './material-list.tsx'

type Batch = RecordOf<'batch'>

/** The page. */
export function BatchesScreen() {
  const at = useCrewAt()
  usePresence('batches')
  const wanted = useSearchParams().get('batch')
  if (!at || at.role === 'researcher' || at.role === 'wall') return <NotHere title="Batches" isComing={!at} />
  const { records } = at
  const inUse = batchesInUse(records)
  const chosen = wanted === null ? undefined : records.batch.get(wanted)
  return (
    <div className="margin-page mx-auto flex max-w-4xl flex-col gap-8 pb-16">
      <PageHeading
        title="Batches"
        actions={
          <DialogButton kind="ink" mark="add" word="Make up a batch…" title="A new batch">
            {(close) => <MakeForm at={at} onDone={close} />}
          </DialogButton>
        }
      />
      {wanted !== null && !chosen ? (
        <Notice kind="error">There is no such batch here. Its label may be of another lab.</Notice>
      ) : null}
      {chosen ? <Whole at={at} batch={chosen} /> : null}
      <Section title="In use" aside={inUse.length > 0 ? `${inUse.length}` : undefined}>
        {inUse.length === 0 ? (
          <Notice kind="empty">No batch is in use. Make one up, or write in what was bought.</Notice>
        ) : (
          <Rows label="Batches in use, the newest first">
            {inUse.map((one) => (
              <BatchRow key={one.id} at={at} batch={one} isChosen={one.id === chosen?.id} />
            ))}
          </Rows>
        )}
      </Section>
      <EndedBatches at={at} chosenId={chosen?.id ?? null} />
      <MaterialList at={at} />
    </div>
  )
}

type BatchProps = { readonly at: CrewAt; readonly batch: Batch }

/** One batch as it was made, and what can be done with it. */
function Whole({ at, batch }: BatchProps) {
  const { attempt, problem } = useTry()
  const { records } = at
  const { weighed, strength, thinnedFrom, expiresOn, ended } = batch
  const stock = thinnedFrom && records.batch.get(thinnedFrom.batchId)
  const real = strength === null ? null : strengthAsWeighed(weighed, strength.convention, densitiesOf(records, batch))
  const amounts = [
    weighed.resinG === null ? '' : `${weighed.resinG} g of ${records.material.get(batch.materialId)?.name ?? 'it'}`,
    stock && thinnedFrom.stockMl !== null ? `${thinnedFrom.stockMl} ml of batch ${numberBatch(stock.number)}` : '',
    stock && thinnedFrom.stockG !== null ? `${thinnedFrom.stockG} g of batch ${numberBatch(stock.number)}` : '',
    weighed.solventMl === null ? '' : `${weighed.solventMl} ml of solvent`,
    weighed.solventG === null ? '' : `${weighed.solventG} g of solvent`,
    weighed.volumeMl === null ? '' : `${weighed.volumeMl} ml in all`,
  ].filter((one) => one !== '')
  const lots = [
    batch.lot === '' ? '' : `lot ${batch.lot}`,
    batch.solventLot === '' ? '' : `solvent lot ${batch.solventLot}`,
  ].filter((one) => one !== '')
  return (
    <section aria-label={`Batch ${batch.number}`} className="border-y-[1.5px] border-ink bg-plaster p-4">
      <div className="flex flex-wrap items-baseline gap-x-4">
        <FieldNumber className="text-page">{numberBatch(batch.number)}</FieldNumber>
        <h2 className="heading text-section">{contentsOf(at, batch)}</h2>
        <Link className={buttonClass('quiet')} href={`/labels?batch=${batch.id}`}>
          Label
        </Link>
      </div>
      {strength === null ? null : (
        <p className="text-say font-firm">
          {sayStrength(strength)}
          {real === null || isNear(real, strength.amount) ? '' : `; as weighed ${round(real)}`}
        </p>
      )}
      {amounts.length > 0 ? <p>As weighed: {sayList(amounts)}.</p> : null}
      {lots.length > 0 ? <p>{capital(lots.join(', '))}.</p> : null}
      <p>
        Made {sayDate(batch.madeOn, 'full')} by {nameIn(records, batch.by)};{' '}
        {expiresOn === null ? 'no last day is set' : `to be used until ${sayDate(expiresOn, 'full')}`}.
      </p>
      {batch.despite === '' ? null : (
        <p className="missing-line">Asked about, and made all the same: {batch.despite}</p>
      )}
      {batch.note === '' ? null : <p>{batch.note}</p>}
      {ended === null ? null : (
        <p className="font-firm">
          {capital(ended.why)}, {sayDate(ended.on, 'full')}, {nameIn(records, ended.by)}.
        </p>
      )}
      <div className="flex flex-wrap gap-3 pt-3">
        {ended === null ? (
          <>
            {strength === null ? null : (
              <DialogButton word="Thin it…" title={`Thin batch ${numberBatch(batch.number)}`}>
                {(close) => <MakeForm at={at} stock={batch} onDone={close} />}
              </DialogButton>
            )}
            {(['used up', 'thrown away', 'entered wrongly'] as const).map((why) => (
              <Button key={why} kind="quiet" onClick={() => attempt({ kind: 'endBatch', batchId: batch.id, why })}>
                {capital(why)}
              </Button>
            ))}
          </>
        ) : (
          <Button kind="quiet" onClick={() => attempt({ kind: 'endBatch', batchId: batch.id, why: null })}>
            It is in use after all
          </Button>
        )}
        <Link className={buttonClass('quiet')} href="/batches">
          Close
        </Link>
      </div>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
    </section>
  )
}

/** Within a hundredth of what was aimed at: a balance and a flask are no better. */
const isNear = (real: number, aimed: number): boolean => Math.abs(real - aimed) <= aimed / 100

const round = (value: number): number => Math.round(value * 100) / 100
