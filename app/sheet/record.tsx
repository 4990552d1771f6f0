'use client'
// The treatment record: what was done and what was written, newest first. Only added to: a correction hangs under what
// it corrects, and both stay.
import { useEffect, useState } from 'react'
import { flushSync } from 'react-dom'
import { doneAt, doneBy, type RecordLine, treatmentRecord, type Written, writtenBy } from '#lib/views'
import { useSheet } from '../_board/index.ts'
import { Button, DialogButton, Notice, RowsComing, Section, Select, useNarrow } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { later } from '../_shell/later.tsx'
import { momentOf, nameOf, type SheetAt, techniqueName } from './sheet-at.ts'
import { sayDetail, sayMoved, sayPutOn } from './treatment/say.ts'
import { isLog, sayCorrects, sayEntry, sayEntryKind, sayLog } from './words.ts'
import { CorrectForm, WriteForm } from './write-form.tsx'

const EntryPhotos = later(async () => (await import('./photos/entry-photos.tsx')).EntryPhotos)
const FIRST_LINES = 10
/** Where everything stands in one column: what was done last, and not the whole story before the next part. */
const FIRST_LINES_NARROW = 3

/** The record, and the way to add to it. */
export function TreatmentRecord({ at }: { readonly at: SheetAt }) {
  const { ready, logs, entries } = useSheet(at.sheet.id)
  const isNarrow = useNarrow()
  const [isWhole, setWhole] = useState(false)
  useEffect(() => {
    // On paper the record is whole, however much of it was unfolded on the screen.
    const onPrint = () => flushSync(() => setWhole(true))
    window.addEventListener('beforeprint', onPrint)
    return () => window.removeEventListener('beforeprint', onPrint)
  }, [])
  const [only, setOnly] = useState('')
  const all = treatmentRecord(logs, entries)
  const kindOf = (line: RecordLine) => (isLog(line.first) ? 'log' : line.first.record.kind)
  const kinds = [...new Set(all.map(kindOf))]
  const lines = only === '' ? all : all.filter((line) => kindOf(line) === only)
  const shown = isWhole ? lines : lines.slice(0, isNarrow ? FIRST_LINES_NARROW : FIRST_LINES)
  return (
    <Section
      id="record"
      title={
        <>
          Treatment record <span className="font-plain text-small text-umber">only added to</span>
        </>
      }
      aside={lines.length > 0 ? `${lines.length}` : undefined}
    >
      {kinds.length > 1 && (!isNarrow || isWhole) ? (
        <Select
          label="Show"
          value={only}
          onValue={setOnly}
          className="no-print pb-2"
          choices={[
            { value: '', label: 'Everything' },
            ...kinds.map((one) => ({ value: one as string, label: one === 'log' ? 'Work done' : sayEntryKind(one) })),
          ]}
        />
      ) : null}
      {!ready ? (
        <RowsComing />
      ) : lines.length === 0 ? (
        <Notice kind="empty">Nothing is recorded yet.</Notice>
      ) : (
        // biome-ignore lint/a11y/noRedundantRoles: Safari forgets a list without bullets unless it is told
        <ul role="list" aria-label="Treatment record, newest first">
          {shown.map((line) => (
            <Line key={`${line.first.kind} ${line.first.record.id}`} at={at} line={line} />
          ))}
        </ul>
      )}
      <div className="no-print flex flex-wrap gap-3 pt-3">
        {at.mayWrite ? (
          <DialogButton mark="note" word="Add to the record…" title="Add to the treatment record">
            {(close) => <WriteForm at={at} onDone={close} />}
          </DialogButton>
        ) : null}
        {lines.length > shown.length ? (
          <Button kind="quiet" onClick={() => setWhole(true)}>
            All {lines.length}
          </Button>
        ) : null}
      </div>
    </Section>
  )
}

function Line({ at, line }: { readonly at: SheetAt; readonly line: RecordLine }) {
  return (
    <li>
      <WrittenRow at={at} written={line.first} isLast={line.corrections.length === 0} />
      {line.corrections.map((one) => (
        <WrittenRow
          key={one.record.id}
          at={at}
          written={one}
          corrected={line.first}
          isLast={one.record.id === line.last.record.id}
        />
      ))}
    </li>
  )
}

type WrittenRowProps = {
  readonly at: SheetAt
  readonly written: Written
  /** What the line began with, when this is a correction. */
  readonly corrected?: Written
  readonly isLast: boolean
}

function WrittenRow({ at, written, corrected, isLast }: WrittenRowProps) {
  const isCorrection = corrected !== undefined
  const by = doneBy(written)
  const writer = writtenBy(written)
  const moment = momentOf(at, isCorrection && writer ? writer.at : doneAt(written))
  const mayCorrect = isLast && (at.isStaff || (at.mayWrite && by === at.me))
  const told = (one: Written) => ({ name: nameOf(at, doneBy(one)), moment: momentOf(at, doneAt(one)) })
  const hand = writer ? nameOf(at, writer.by) : null
  return (
    <div className={`record-row ${isCorrection ? 'record-correction' : ''} ${isLast ? '' : 'record-old'}`}>
      <span className="record-when text-umber">
        {isCorrection ? <Mark name="after" size={18} label="correction" className="record-hook" /> : null}
        {isCorrection && !writer ? 'corrected' : moment}
      </span>
      <span className="record-who font-strong">{isCorrection && hand !== null ? hand : nameOf(at, by)}</span>
      <span className="record-text">
        {isCorrection ? <span className="text-umber">{sayCorrects(told(corrected), hand)} </span> : null}
        <WrittenText at={at} written={written} />
        <EntryPhotos pieceId={at.sheet.id} entryId={written.record.id} />
        {!isCorrection && writer && writer.by !== by ? <span className="text-umber"> Logged by {hand}.</span> : null}
      </span>
      {mayCorrect ? (
        <DialogButton
          kind="quiet"
          word="Correct"
          label={`Correct ${moment}`}
          title="Correct this"
          className="record-act no-print"
        >
          {(close) => <CorrectForm at={at} written={written} onDone={close} />}
        </DialogButton>
      ) : null}
    </div>
  )
}

function WrittenText({ at, written }: { readonly at: SheetAt; readonly written: Written }) {
  if (isLog(written)) {
    const { record } = written
    return (
      <>
        <span>{sayLog(record, techniqueName(at, record.techniqueId))}.</span>
        {record.closedBy === 'day' ? <span className="text-umber"> Closed by the next day, not by hand.</span> : null}
        {record.movedRock === undefined ? null : <span> {sayMoved(record.movedRock)}</span>}
        {record.note === '' ? null : <span className="whitespace-pre-wrap"> {record.note}</span>}
        {record.jar ? <span className="block text-small text-umber">{sayPutOn(record)}</span> : null}
      </>
    )
  }
  const { record } = written
  return (
    <>
      {record.kind === 'note' ? null : <b>{sayEntryKind(record.kind)}. </b>}
      <span className="whitespace-pre-wrap">{sayEntry(record)}</span>
      {record.detail ? (
        <span className="block text-small text-umber">{sayDetail(record.detail, (id) => nameOf(at, id))}</span>
      ) : null}
    </>
  )
}
