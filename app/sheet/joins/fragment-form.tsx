'use client'
// Measuring a fragment: what calipers, chart and eye tell. Everything but the number may stay empty.
import { useState } from 'react'
import { type BreakEdge, edgeProfiles, type Fragment, surfaceKinds } from '#lib/words'
import { useNewId } from '../../_board/index.ts'
import { ActForm, Button, Check, NumberField, Select } from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'

const EDGES_MOST = 16
type Given = Pick<Fragment, 'number' | 'thicknessMm' | 'texture' | 'shade' | 'surface' | 'edges' | 'note'>

export type FragmentFormProps = {
  readonly pieceId: Fragment['pieceId']
  /** What is known of it; a new number with nothing else for a new one. */
  readonly given: Readonly<Given>
  readonly isNew: boolean
  readonly onDone: () => void
}

/** One fragment, new or measured again. */
export function FragmentForm({ pieceId, given, isNew, onDone }: FragmentFormProps) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [seen, setSeen] = useState(given)
  const set = (patch: Partial<Given>) => setSeen((now) => ({ ...now, ...patch }))
  const setEdge = (at: number, patch: Partial<BreakEdge>) =>
    set({ edges: seen.edges.map((edge, index) => (index === at ? { ...edge, ...patch } : edge)) })
  const keep = (isGone: boolean) => {
    const fragments = [{ id: newId(), ...seen, isGone }]
    if (attempt({ kind: 'measureFragments', pieceId, fragments, areNew: isNew })) onDone()
  }
  const chart = [
    { value: '', label: 'not read' },
    ...[1, 2, 3, 4, 5, 6, 7].map((step) => ({ value: `${step}`, label: `${step}` })),
  ]
  return (
    <ActForm
      act="Keep it"
      problem={problem}
      onAct={() => keep(false)}
      others={isNew ? null : <Button onClick={() => keep(true)}>Take it off the tray</Button>}
    >
      <div className="grid grid-cols-2 items-end gap-4">
        <NumberField
          label="Number"
          min={1}
          max={200}
          disabled={!isNew}
          value={seen.number}
          onValue={(number) => set({ number: number ?? 1 })}
        />
        <NumberField
          label="Thickness"
          unit="mm"
          step={0.1}
          value={seen.thicknessMm ?? undefined}
          onValue={(thicknessMm) => set({ thicknessMm: thicknessMm ?? null })}
        />
        <Select
          label="Texture, 1 fine to 7 coarse"
          choices={chart}
          value={`${seen.texture ?? ''}`}
          onValue={(value) => set({ texture: value === '' ? null : Number(value) })}
        />
        <Select
          label="Colour, 1 pale to 7 dark"
          choices={chart}
          value={`${seen.shade ?? ''}`}
          onValue={(value) => set({ shade: value === '' ? null : Number(value) })}
        />
        <Select
          label="Surface"
          className="col-span-2"
          choices={[{ value: '', label: 'not told' }, ...surfaceKinds.map((value) => ({ value, label: value }))]}
          value={seen.surface ?? ''}
          onValue={(value) => set({ surface: surfaceKinds.find((one) => one === value) ?? null })}
        />
      </div>
      {seen.edges.map((edge, index) => (
        <fieldset key={index} className="grid grid-cols-2 gap-3 border-t border-line pt-3">
          <legend className="pr-2 font-strong">Break edge {index + 1}</legend>
          <NumberField
            label="Length"
            unit="mm"
            value={edge.lengthMm}
            onValue={(lengthMm) => setEdge(index, { lengthMm: lengthMm ?? 1 })}
          />
          <NumberField
            label="Thickness there"
            unit="mm"
            step={0.1}
            value={edge.thicknessMm ?? undefined}
            onValue={(thicknessMm) => setEdge(index, { thicknessMm: thicknessMm ?? null })}
          />
          <Select
            label="Runs"
            choices={edgeProfiles.map((value) => ({ value, label: value }))}
            value={edge.profile}
            onValue={(value) => setEdge(index, { profile: edgeProfiles.find((one) => one === value) ?? 'worn' })}
          />
          <Check
            label="Joined already"
            note="Nothing more goes here: it is not tried again."
            isOn={edge.isTaken === true}
            onToggle={(isTaken) => setEdge(index, { isTaken })}
          />
          <Button
            kind="quiet"
            className="justify-self-start"
            onClick={() => set({ edges: seen.edges.filter((_, at) => at !== index) })}
          >
            Take edge {index + 1} away
          </Button>
        </fieldset>
      ))}
      <Button
        mark="add"
        disabled={seen.edges.length >= EDGES_MOST}
        onClick={() => set({ edges: [...seen.edges, { lengthMm: 20, thicknessMm: null, profile: 'straight' }] })}
      >
        A break edge
      </Button>
    </ActForm>
  )
}

const SEVERAL_MOST = 50

/** Several fragments at once by number alone; each is measured later, or not. */
export function LayOutForm({ pieceId, first, onDone }: LayOutProps) {
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [count, setCount] = useState<number | undefined>(9)
  const last = Math.min(200, first + (count ?? 0) - 1)
  const layOut = () => {
    const fragments = Array.from({ length: last - first + 1 }, (_, index) => ({
      ...{ id: newId(), number: first + index, thicknessMm: null, texture: null, shade: null, surface: null },
      ...{ edges: [], note: '', isGone: false },
    }))
    if (attempt({ kind: 'measureFragments', pieceId, fragments, areNew: true })) onDone()
  }
  return (
    <ActForm
      act="Lay them out"
      problem={problem}
      isOff={!count || count < 1 || count > SEVERAL_MOST || last < first}
      onAct={layOut}
    >
      <NumberField label="How many" min={1} max={SEVERAL_MOST} value={count} onValue={setCount} />
      <p className="text-umber">
        Numbers {first} to {Math.max(first, last)}. Edges are measured fragment by fragment; without edges, which pair
        to try next cannot be told.
      </p>
    </ActForm>
  )
}

type LayOutProps = { readonly pieceId: Fragment['pieceId']; readonly first: number; readonly onDone: () => void }
