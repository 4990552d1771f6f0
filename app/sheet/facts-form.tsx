'use client'
// The forms behind "What it is", for a specimen and for a jacket. Stage, ceiling, shelf and weight have acts of their
// own and are not here.
import { useState } from 'react'
import type { RecordOf } from '#lib/words'
import { ActForm, Check, Fold, Select, TextArea, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { capital, nameRating, sayPurpose, sayRating } from '../_text/index.ts'
import { SizeFields } from './size-fields.tsx'

/** What a specimen is. */
export function SpecimenForm({
  specimen,
  onDone,
}: {
  readonly specimen: RecordOf<'specimen'>
  readonly onDone: () => void
}) {
  const { attempt, problem } = useTry()
  const [now, setNow] = useState(specimen)
  const set = (patch: Partial<RecordOf<'specimen'>>) => setNow({ ...now, ...patch })
  const { number, name, catalogueNumber, locality, horizon, purpose, side, stopLine, fragile, isPriority, note } = now
  const { lengthM, widthM, heightM, mass, isTied, sampling } = now
  const patch = { number, name, catalogueNumber, locality, horizon, purpose, side, stopLine, fragile, isPriority, note }
  return (
    <ActForm
      act="Keep it"
      problem={problem}
      isOff={number.trim() === '' || name.trim() === ''}
      onAct={() => {
        const sizes = { lengthM, widthM, heightM, mass, isTied, ...(sampling && { sampling }) }
        if (attempt({ kind: 'editSpecimen', pieceId: specimen.id, patch: { ...patch, ...sizes } })) onDone()
      }}
    >
      <div className="grid gap-4 tablet:grid-cols-2">
        <TextField label="Number" isInked value={number} onChange={(event) => set({ number: event.target.value })} />
        <TextField
          label="Catalogue number"
          isInked
          value={catalogueNumber}
          onChange={(event) => set({ catalogueNumber: event.target.value })}
        />
      </div>
      <TextField label="Name" value={name} onChange={(event) => set({ name: event.target.value })} />
      <Found locality={locality} horizon={horizon} onFound={set} />
      <Select
        label="Prepared"
        value={purpose}
        onValue={(value) => set({ purpose: purposes.find((one) => one === value) ?? 'research' })}
        choices={purposes.map((one) => ({ value: one, label: sayPurpose(one) }))}
      />
      <TextField label="Side to see" value={side} onChange={(event) => set({ side: event.target.value })} />
      <TextField
        label="Stop line"
        hint="Where work must end."
        value={stopLine}
        onChange={(event) => set({ stopLine: event.target.value })}
      />
      <TextField
        label="Fragile"
        hint="Where; empty when nowhere in particular."
        value={fragile}
        onChange={(event) => set({ fragile: event.target.value })}
      />
      <Samples now={sampling} onSay={(said) => set({ sampling: said })} />
      <Check
        label="Delicate or urgent"
        note="asks for level 3"
        isOn={isPriority}
        onToggle={(isOn) => set({ isPriority: isOn })}
      />
      <SizeFields piece={now} onSize={set} />
      <Check
        label="Cannot be moved for now"
        note="curing, in plaster, on the hoist"
        isOn={isTied}
        onToggle={(isOn) => set({ isTied: isOn })}
      />
      <TextArea label="Note" value={note} onChange={(event) => set({ note: event.target.value })} />
    </ActForm>
  )
}

const purposes = ['research', 'exhibit', 'both'] as const
const samplings = ['wanted', 'taken', 'not wanted'] as const
const containers = ['jacket', 'block', 'bag'] as const
const hazards = ['wet', 'mould', 'pyrite', 'old plaster', 'radioactive'] as const

type Sampling = NonNullable<RecordOf<'specimen'>['sampling']>

function Samples({ now, onSay }: { readonly now: Sampling | undefined; readonly onSay: (said: Sampling) => void }) {
  return (
    <Select
      label="Samples for chemistry or DNA"
      hint="Taken before any consolidant; until it is said, each consolidant asks."
      value={now ?? ''}
      onValue={(value) => {
        const said = samplings.find((one) => one === value)
        if (said !== undefined) onSay(said)
      }}
      choices={[
        ...(now === undefined ? [{ value: '', label: 'nobody has said' }] : []),
        ...samplings.map((one) => ({ value: one, label: capital(one) })),
      ]}
    />
  )
}

function Found(props: {
  readonly locality: string
  readonly horizon: string
  readonly onFound: (found: { readonly locality: string } | { readonly horizon: string }) => void
}) {
  return (
    <div className="grid gap-4 tablet:grid-cols-2">
      <TextField
        label="Locality"
        value={props.locality}
        onChange={(event) => props.onFound({ locality: event.target.value })}
      />
      <TextField
        label="Horizon"
        value={props.horizon}
        onChange={(event) => props.onFound({ horizon: event.target.value })}
      />
    </div>
  )
}

/** What a jacket is. */
export function JacketForm({ jacket, onDone }: { readonly jacket: RecordOf<'jacket'>; readonly onDone: () => void }) {
  const { attempt, problem } = useTry()
  const [now, setNow] = useState(jacket)
  const set = (patch: Partial<RecordOf<'jacket'>>) => setNow({ ...now, ...patch })
  const { id: _id, state: _state, placeId: _placeId, ...patch } = now
  return (
    <ActForm
      act="Keep it"
      problem={problem}
      isOff={now.fieldNumber.trim() === ''}
      onAct={() => {
        if (attempt({ kind: 'editJacket', pieceId: jacket.id, patch })) onDone()
      }}
    >
      <TextField
        label="Field number"
        hint="As inked on the plaster."
        isInked
        value={now.fieldNumber}
        onChange={(event) => set({ fieldNumber: event.target.value })}
      />
      <TextField
        label="Expected contents"
        value={now.contents}
        onChange={(event) => set({ contents: event.target.value })}
      />
      <div className="grid gap-4 tablet:grid-cols-2">
        <Select
          label="Came as"
          value={now.container}
          onValue={(value) => set({ container: containers.find((one) => one === value) ?? 'jacket' })}
          choices={containers.map((one) => ({ value: one, label: capital(one) }))}
        />
        <Select
          label={nameRating('rockHardness')}
          value={String(now.rockHardness)}
          onValue={(value) => set({ rockHardness: Number(value) })}
          choices={[1, 2, 3, 4, 5].map((value) => ({
            value: String(value),
            label: `${value} ${sayRating('rockHardness', value)}`,
          }))}
        />
      </div>
      <Found locality={now.locality} horizon={now.horizon} onFound={set} />
      <div className="grid gap-4 tablet:grid-cols-2">
        <TextField
          label="Collector"
          value={now.collector}
          onChange={(event) => set({ collector: event.target.value })}
        />
        <TextField
          label="Collected on"
          type="date"
          value={now.collectedOn ?? ''}
          onChange={(event) => set({ collectedOn: event.target.value === '' ? null : event.target.value })}
        />
      </div>
      <fieldset>
        <legend className="font-firm">Hazards seen or likely</legend>
        {hazards.map((hazard) => (
          <Check
            key={hazard}
            label={capital(hazard)}
            isOn={now.hazards.includes(hazard)}
            onToggle={(isOn) =>
              set({ hazards: isOn ? [...now.hazards, hazard] : now.hazards.filter((one) => one !== hazard) })
            }
          />
        ))}
      </fieldset>
      <Fold title="Which way up, notes, permit and ownership">
        <div className="flex flex-col gap-4 pt-2">
          {(
            [
              ['faceUp', 'Face up'],
              ['sketchNote', 'On the sketch'],
              ['hazardNote', 'More about the hazards'],
              ['permit', 'Permit'],
              ['owner', 'Whose it is'],
            ] as const
          ).map(([key, label]) => (
            <TextField
              key={key}
              label={label}
              value={now[key] ?? ''}
              onChange={(event) => set({ [key]: event.target.value })}
            />
          ))}
          <TextArea
            label="Field notes"
            value={now.fieldNotes ?? ''}
            onChange={(event) => set({ fieldNotes: event.target.value })}
          />
        </div>
      </Fold>
      <Samples now={now.sampling} onSay={(sampling) => set({ sampling })} />
      <SizeFields piece={now} onSize={set} />
      <Check label="Chosen for this season" isOn={now.isInSeason} onToggle={(isOn) => set({ isInSeason: isOn })} />
      <TextArea label="Note" value={now.note} onChange={(event) => set({ note: event.target.value })} />
    </ActForm>
  )
}
