'use client'
// Judging a piece: four drawn ratings, what it is thought to be, how it is to be prepared, how gently. Before it is kept
// it says what it would mean for the dates and for the posted line-up.
import { useDeferredValue, useMemo, useState } from 'react'
import type { RecordOf, TechniqueId } from '#lib/words'
import { useNewId, useNow } from '../../_board/index.ts'
import { ActForm, Fold, NumberField, Select, TextArea, TextField } from '../../_parts/controls/index.ts'
import { useKeptForm } from '../../_shell/kept-form.ts'
import { useTry } from '../../_shell/use-try.ts'
import { capital, namesIn, type RatingName, sayChance, sayDate, sayPurpose, sayWindow } from '../../_text/index.ts'
import { ladderOf, type SheetAt } from '../sheet-at.ts'
import { type Ahead, lookAhead } from './look-ahead.ts'
import { RatingChoice } from './rating-choice.tsx'

const rated: readonly RatingName[] = ['rockHardness', 'contrast', 'soundness', 'breakage']
const purposes = ['research', 'exhibit', 'both'] as const
const whys = ['first look', 'surprise at opening', 'in the course of work'] as const

type Assessment = RecordOf<'assessment'>
type AssessFormProps = { readonly at: SheetAt; readonly last: Assessment | null; readonly onDone: () => void }

/** What the form begins with: the piece as it is known. */
function blankOf(at: SheetAt, last: Assessment | null) {
  const { specimen, jacket } = at.sheet
  const known = specimen?.ratings
  return {
    why: (last ? (specimen ? 'in the course of work' : 'surprise at opening') : 'first look') as string,
    rockHardness: known?.rockHardness ?? jacket?.rockHardness ?? 3,
    contrast: known?.contrast ?? last?.contrast ?? 3,
    soundness: known?.soundness ?? last?.soundness ?? 3,
    breakage: known?.breakage ?? last?.breakage ?? 3,
    exposedCm2: last?.exposedCm2 ?? 0,
    toExposeCm2: known?.toExposeCm2 ?? last?.toExposeCm2 ?? 0,
    taxon: specimen?.taxon ?? last?.taxon ?? '',
    element: specimen?.element ?? last?.element ?? '',
    purpose: (specimen?.purpose ?? last?.purpose ?? 'research') as string,
    side: specimen?.side ?? last?.side ?? '',
    stopLine: specimen?.stopLine ?? last?.stopLine ?? '',
    forceCeiling: (specimen?.forceCeiling ?? last?.forceCeiling ?? ladderOf(at)[0]?.id ?? '') as string,
    note: '',
  }
}

/** The form; what was typed stays on this device until it is kept. */
export function AssessForm({ at, last, onDone }: AssessFormProps) {
  const newId = useNewId()
  const now = useNow(60_000)
  const { attempt, problem } = useTry()
  const [blank] = useState(() => blankOf(at, last))
  const { form, set, clear } = useKeptForm(`assess.${at.sheet.id}`, blank)
  const settled = useDeferredValue(form)
  const judged = (id: string, from: typeof form) => ({
    ...from,
    id,
    pieceId: at.sheet.id,
    why: whys.find((one) => one === from.why) ?? 'first look',
    purpose: purposes.find((one) => one === from.purpose) ?? 'research',
    // A choice of the list below, whose values are the lab's own ids.
    forceCeiling: from.forceCeiling as TechniqueId,
    note: from.note.trim(),
    meant: [],
  })
  // biome-ignore lint/correctness/useExhaustiveDependencies: `judged` only reads what is listed
  const ahead = useMemo(
    () =>
      now.ms === 0
        ? null
        : lookAhead(at.records, judged('ahead', settled), { ...now, at: new Date(now.ms).toISOString() }),
    [at.records, settled, now],
  )
  const isOff = form.forceCeiling === ''
  return (
    <ActForm
      act="Keep the assessment"
      problem={problem === undefined ? undefined : `Not kept. ${problem} What you typed is still here.`}
      isOff={isOff}
      onAct={() => {
        const assessment = { ...judged(newId(), form), meant: [...(ahead?.meant ?? [])] }
        if (!attempt({ kind: 'assess', assessment })) return
        clear()
        onDone()
      }}
    >
      <Select
        label="Why now"
        value={form.why}
        onValue={(why) => set({ why })}
        choices={whys.map((one) => ({ value: one, label: capital(one) }))}
      />
      {rated.map((name) => (
        <RatingChoice key={name} name={name} value={form[name]} onValue={(value) => set({ [name]: value })} />
      ))}
      <div className="grid grid-cols-2 gap-3">
        <NumberField
          label="Bone that shows"
          unit="cm²"
          min={0}
          value={form.exposedCm2}
          onValue={(value) => set({ exposedCm2: value ?? 0 })}
        />
        <NumberField
          label="Still to expose"
          unit="cm²"
          min={0}
          value={form.toExposeCm2}
          onValue={(value) => set({ toExposeCm2: value ?? 0 })}
        />
      </div>
      <div className="grid grid-cols-2 gap-3">
        <TextField
          label="Animal, as guessed"
          value={form.taxon}
          onChange={(event) => set({ taxon: event.target.value })}
        />
        <TextField label="Part of it" value={form.element} onChange={(event) => set({ element: event.target.value })} />
      </div>
      <Select
        label="No stronger than"
        value={form.forceCeiling}
        onValue={(forceCeiling) => set({ forceCeiling })}
        choices={ladderOf(at).map((one) => ({ value: one.id as string, label: one.name }))}
      />
      <TextArea label="What was seen" value={form.note} onChange={(event) => set({ note: event.target.value })} />
      <Fold title="How it is to be prepared">
        <div className="flex flex-col gap-4 pt-2">
          <Select
            label="Prepared for"
            value={form.purpose}
            onValue={(purpose) => set({ purpose })}
            choices={purposes.map((one) => ({ value: one, label: sayPurpose(one) }))}
          />
          <TextField label="Side to see" value={form.side} onChange={(event) => set({ side: event.target.value })} />
          <TextField
            label="Stop line"
            value={form.stopLine}
            onChange={(event) => set({ stopLine: event.target.value })}
          />
        </div>
      </Fold>
      {ahead === null ? null : <WhatItMeans at={at} ahead={ahead} />}
    </ActForm>
  )
}

/** Dates and turns, in words. */
function WhatItMeans({ at, ahead }: { readonly at: SheetAt; readonly ahead: Ahead }) {
  const say = namesIn(at.records)
  const isSame = ahead.before?.join() === ahead.after?.join()
  return (
    <section className="border-t border-line pt-3" aria-label="What this changes" aria-live="polite">
      <h3 className="font-strong">What this changes</h3>
      <p>
        {ahead.after === null
          ? 'No finish window can be told: no steps, or no pace to go by.'
          : isSame
            ? `Ready ${sayWindow(ahead.after[0], ahead.after[1])}, as before.`
            : `Ready ${sayWindow(ahead.after[0], ahead.after[1])}${ahead.before ? `; before ${sayWindow(ahead.before[0], ahead.before[1])}` : ''}.`}
      </p>
      {ahead.meant.map((one) => (
        <p key={one.dueId}>{sayMeant(one)}</p>
      ))}
      {ahead.turns.length === 0 ? (
        <p>Every posted turn stays lawful.</p>
      ) : (
        ahead.turns.map((turn) => (
          <p key={turn.id} className="missing-line">
            {say.person(turn.personId)}, {sayDate(turn.date, 'short')}, {say.shift(turn.shiftId)}, at{' '}
            {say.place(turn.placeId)}: no longer lawful. Kept, it comes off the day and {say.person(turn.personId)} is
            told.
          </p>
        ))
      )}
    </section>
  )
}

/** Chance of a date before and after. */
export function sayMeant(one: Assessment['meant'][number]): string {
  const date = sayDate(one.date, 'short')
  if (one.after === null) return `${date}: no chance can be told.`
  const now = sayChance(one.after)
  const was = one.before === null ? null : sayChance(one.before)
  return was === null
    ? `${date}: ${now}.`
    : was === now
      ? `${date}: ${now}, as before.`
      : `${date}: ${now}; before ${was}.`
}
