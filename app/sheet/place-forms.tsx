'use client'
// Where a piece goes, and what it weighs.
import { useState } from 'react'
import { rackLoads, standingKg } from '#lib/rules'
import type { PlaceId } from '#lib/words'
import { useWouldRefuse } from '../_board/index.ts'
import { ActForm, NumberField, Select, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayFindings, sayMass } from '../_text/index.ts'
import { RackLine } from './custody/rack-line.tsx'
import type { SheetAt } from './sheet-at.ts'

type FormProps = { readonly at: SheetAt; readonly onDone: () => void }

/** On a shelf, or at a place that bears it and has room. */
export function ShelveForm({ at, onDone }: FormProps) {
  const { attempt, problem } = useTry()
  const wouldRefuse = useWouldRefuse()
  const { piece } = at.sheet
  const [shelf, setShelf] = useState(piece.shelf)
  const [despite, setDespite] = useState('')
  const [placeId, setPlace] = useState<string>(piece.placeId ?? '')
  const body = {
    kind: 'shelve' as const,
    pieceId: piece.id,
    shelf: shelf.trim(),
    placeId: placeId === '' ? null : (placeId as PlaceId),
    ...(despite.trim() === '' ? {} : { despite: despite.trim() }),
  }
  const findings = wouldRefuse(body)
  const places = [...at.records.place.values()].toSorted((a, b) => (a.code < b.code ? -1 : 1))
  return (
    <ActForm
      act={placeId === '' ? 'Put it there' : 'Bring it there'}
      problem={problem ?? (findings.length > 0 ? sayFindings(findings, at.records) : undefined)}
      isOff={findings.length > 0}
      onAct={() => {
        if (attempt(body)) onDone()
      }}
    >
      <Select
        label="Place"
        value={placeId}
        onValue={setPlace}
        choices={[
          { value: '', label: 'On the shelf' },
          ...places.map((place) => ({ value: place.id as string, label: `${place.code} ${place.name}` })),
        ]}
      />
      <TextField
        label="Shelf"
        hint="In the lab's own words: rack 1, shelf b."
        value={shelf}
        onChange={(event) => setShelf(event.target.value)}
      />
      {placeId === '' ? (
        <RackLine
          loads={rackLoads(at.records, shelf, piece)}
          {...standingKg(piece)}
          despite={despite}
          onDespite={setDespite}
        />
      ) : null}
    </ActForm>
  )
}

/** A weighing; the estimate stays beside it. */
export function WeighForm({ at, onDone }: FormProps) {
  const { attempt, problem } = useTry()
  const { specimen, piece } = at.sheet
  const [weighedKg, setWeighed] = useState<number | undefined>(piece.mass.weighedKg ?? undefined)
  return (
    <ActForm
      act="Keep the weight"
      problem={problem}
      isOff={weighedKg === undefined}
      onAct={() => {
        const patch = { mass: { ...piece.mass, weighedKg: weighedKg ?? null, weighedOn: at.today } }
        const done = attempt({ kind: specimen ? 'editSpecimen' : 'editJacket', pieceId: piece.id, patch })
        if (done) onDone()
      }}
    >
      <p>{sayMass({ ...piece.mass, weighedKg: null })}. Heavy pieces go by hoist or trolley, and somebody leads.</p>
      <NumberField label="Weighed" unit="kg" min={0} step={0.1} value={weighedKg} onValue={setWeighed} />
    </ActForm>
  )
}
