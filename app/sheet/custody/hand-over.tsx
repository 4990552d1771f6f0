'use client'
// The last step: what is missing before the piece may leave, each line leading to where it is put right; then the
// sign-off by which it passes into other hands and into the archive.
import Link from 'next/link'
import { missingAtHandOver, photosShown } from '#lib/rules'
import type { Finding, RecordOf } from '#lib/words'
import { useNewId } from '../../_board/index.ts'
import { ActForm, Check, DialogButton, FoldingSection, Notice, Select, TextField } from '../../_parts/controls/index.ts'
import { useKeptForm } from '../../_shell/kept-form.ts'
import { useTry } from '../../_shell/use-try.ts'
import { capital, sayCount, sayDate, sayFinding } from '../../_text/index.ts'
import { momentOf, nameOf, type SheetAt } from '../sheet-at.ts'

const tos = ['collection', 'loan', 'exhibit'] as const
const blank = {
  to: 'collection' as string,
  holder: '',
  receivedBy: '',
  until: '',
  condition: '',
  isPurposeMet: false,
  isLabelled: false,
  photographs: '',
  reason: '',
}

/** Whose hands it is and was in, and the way out. */
export function HandOver({ at }: { readonly at: SheetAt }) {
  const { specimen } = at.sheet
  const hands = [...at.records.custody.values()]
    .filter((one) => one.pieceId === at.sheet.id)
    .toSorted((a, b) => (a.at < b.at ? 1 : -1))
  if (!specimen) return null
  // Where it may leave soon, the way out is in sight of whoever signs.
  const isNear = at.isStaff && (specimen.stage === 'stabilised' || specimen.stage === 'housed')
  const last = hands[0]
  const brief = !last || last.to === 'lab' ? 'in the lab' : `${last.to}: ${last.holder}`
  return (
    <FoldingSection id="hands" title="Whose hands" brief={isNear ? null : brief}>
      {hands.length === 0 ? <p>In the lab since it came.</p> : null}
      <ul>
        {hands.map((one) => (
          <HandRow key={one.id} at={at} one={one} />
        ))}
      </ul>
      {at.isStaff ? (
        <DialogButton word="Hand over…" title={`Hand ${at.sheet.number} over`} className="no-print mt-3">
          {(close) => <HandOverForm at={at} onDone={close} />}
        </DialogButton>
      ) : null}
    </FoldingSection>
  )
}

function HandRow({ at, one }: { readonly at: SheetAt; readonly one: RecordOf<'custody'> }) {
  return (
    <li className="border-b border-line py-2">
      <p className="font-firm">
        {one.to === 'lab' ? 'Back in the lab' : `${capital(one.to)}: ${one.holder}`}
        {one.until === null ? '' : `, until ${sayDate(one.until, 'full')}`}
      </p>
      {one.condition === '' ? null : <p>Condition: {one.condition}</p>}
      <p className="text-small text-umber">
        {momentOf(at, one.at)}, signed by {nameOf(at, one.by)}
        {one.receivedBy === '' ? '' : `, received by ${one.receivedBy}`}
      </p>
      {one.reason === '' ? null : (
        <p className="missing-line">
          Signed although {one.missing.length} {one.missing.length === 1 ? 'thing was' : 'things were'} missing:{' '}
          {one.reason}
        </p>
      )}
    </li>
  )
}

function HandOverForm({ at, onDone }: { readonly at: SheetAt; readonly onDone: () => void }) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const { form, set, clear } = useKeptForm(`hand.${at.sheet.id}`, blank)
  const said = {
    to: tos.find((one) => one === form.to) ?? 'collection',
    holder: form.holder.trim(),
    receivedBy: form.receivedBy.trim(),
    until: form.to === 'loan' && form.until !== '' ? form.until : null,
    condition: form.condition.trim(),
    isPurposeMet: form.isPurposeMet,
    isLabelled: form.isLabelled,
    photographs: form.photographs.trim(),
  }
  const missing = missingAtHandOver(at.records, at.sheet.id, said)
  const photos = photosShown(at.records.photo.values(), at.sheet.id).length
  return (
    <ActForm
      act={missing.length === 0 ? 'Sign and hand over' : 'Sign all the same'}
      problem={problem === undefined ? undefined : `Not signed. ${problem} What you typed is still here.`}
      isOff={form.holder.trim() === '' || (missing.length > 0 && (!at.isManager || form.reason.trim() === ''))}
      onAct={() => {
        const body = { custodyId: newId(), pieceId: at.sheet.id, said, reason: form.reason.trim() }
        if (!attempt({ kind: 'handOver', ...body })) return
        clear()
        onDone()
      }}
    >
      <Select
        label="Goes to"
        value={form.to}
        onValue={(to) => set({ to })}
        choices={tos.map((one) => ({ value: one, label: capital(one) }))}
      />
      <TextField
        label={form.to === 'loan' ? 'Who borrows it' : form.to === 'exhibit' ? 'Which exhibit' : 'Which collection'}
        value={form.holder}
        onChange={(event) => set({ holder: event.target.value })}
      />
      {form.to === 'loan' ? (
        <div id="hand-until">
          <TextField
            label="Until"
            type="date"
            min={at.today}
            value={form.until}
            onChange={(event) => set({ until: event.target.value })}
          />
        </div>
      ) : null}
      <TextField
        label="Received by"
        value={form.receivedBy}
        onChange={(event) => set({ receivedBy: event.target.value })}
      />
      <div id="hand-condition">
        <TextField
          label="Condition as it leaves"
          value={form.condition}
          onChange={(event) => set({ condition: event.target.value })}
        />
      </div>
      <div id="hand-photographs">
        <TextField
          label="Photographs"
          hint={
            photos === 0
              ? 'How many, and where they are.'
              : `${capital(sayCount(photos, 'photograph'))} on its Sheet; say what lies elsewhere.`
          }
          value={form.photographs}
          onChange={(event) => set({ photographs: event.target.value })}
        />
      </div>
      <div id="hand-purpose">
        <Check label="The purpose is met" isOn={form.isPurposeMet} onToggle={(isPurposeMet) => set({ isPurposeMet })} />
      </div>
      <div id="hand-labels">
        <Check
          label="Every piece has its label"
          note="loose fragments too"
          isOn={form.isLabelled}
          onToggle={(isLabelled) => set({ isLabelled })}
        />
      </div>
      <section aria-label="What is missing" aria-live="polite" className="border-t border-line pt-3">
        {missing.length === 0 ? (
          <Notice kind="plain">Nothing is missing. Signed, it leaves the board for the archive.</Notice>
        ) : (
          <>
            <h3 className="font-strong">Missing still: {missing.length}</h3>
            <ul>
              {missing.map((one) => (
                <li key={`${one.code} ${JSON.stringify(one.ids)}`} className="border-b border-line">
                  <MissingLink at={at} one={one} onLeave={onDone} />
                </li>
              ))}
            </ul>
            {at.isManager ? (
              <TextField
                label="Why it goes all the same"
                hint="Stays on record with what was missing."
                value={form.reason}
                onChange={(event) => set({ reason: event.target.value })}
              />
            ) : (
              <p className="text-small text-umber">A manager may sign all the same, with a reason.</p>
            )}
          </>
        )}
      </section>
    </ActForm>
  )
}

/** What is put right in this form gets the focus here; the rest leads to its part of the Sheet. */
function MissingLink(props: { readonly at: SheetAt; readonly one: Finding; readonly onLeave: () => void }) {
  const { at, one, onLeave } = props
  const isHere = own.includes(one.code)
  return (
    <Link
      className="block py-2.5 underline underline-offset-4"
      href={isHere ? `#${one.code}` : whereOf(at, one)}
      onClick={(event) => {
        if (!isHere) return onLeave()
        event.preventDefault()
        document.getElementById(one.code)?.querySelector('input')?.focus()
      }}
    >
      {sayFinding(one, at.records)}
    </Link>
  )
}

const own: readonly string[] = ['hand-until', 'hand-condition', 'hand-photographs', 'hand-purpose', 'hand-labels']

/** The part of the Sheet where a missing thing is put right. */
function whereOf(at: SheetAt, one: Finding): string {
  const part: Readonly<Record<string, string>> = {
    'hand-step-open': 'steps',
    'hand-housing': 'housing',
    'hand-housing-weak': 'housing',
    'hand-record': 'record',
    'hand-assessment': 'assessments',
    'hand-question': 'questions',
    'hand-catalogue': 'facts',
  }
  return `/sheet/${at.sheet.id}#${part[one.code] ?? 'facts'}`
}
