'use client'
// What the racks are rated to bear, as the lab keeps it: a name as it stands in the pieces' shelves, and kilograms. Beside
// each, what the board says stands there now.
import { useState } from 'react'
import { rackLoads } from '#lib/rules'
import { useBoard, useNewId } from '../_board/index.ts'
import { ActForm, Button, Dialog, NumberField, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayCount, sayKg } from '../_text/index.ts'

export type RackRatingsProps = { readonly isOpen: boolean; readonly onClose: () => void }

/** The list, and one form to add or change a rating. */
export default function RackRatings({ isOpen, onClose }: RackRatingsProps) {
  const records = useBoard((board) => board)
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [name, setName] = useState('')
  const [ratedKg, setRated] = useState<number | undefined>()
  const racks = [...records.rack.values()].toSorted((a, b) => a.name.localeCompare(b.name, 'en'))
  const known = racks.find((one) => one.name.toLowerCase() === name.trim().toLowerCase())
  return (
    <Dialog isOpen={isOpen} title="What the racks bear" onClose={onClose}>
      <ul className="pb-4">
        {racks.map((rack) => {
          const load = rackLoads(records, rack.name, null).find((one) => one.rack.id === rack.id)
          return (
            <li key={rack.id} className="flex flex-wrap items-center gap-3 border-b border-line py-1">
              <span className="min-w-0 flex-1">
                <b>{rack.name}</b>, rated for {sayKg(rack.ratedKg)}
                <span className="block text-small text-umber">
                  {sayCount(load?.pieces ?? 0, 'piece')} of the board on it, {sayKg(load?.standsLowKg ?? 0)} to{' '}
                  {sayKg(load?.standsHighKg ?? 0)}
                </span>
              </span>
              <Button
                kind="quiet"
                label={`Take the rating of ${rack.name} away`}
                onClick={() => attempt({ kind: 'setRack', rackId: rack.id, name: rack.name, ratedKg: null })}
              >
                Take away
              </Button>
            </li>
          )
        })}
      </ul>
      <ActForm
        act={known ? 'Change the rating' : 'Add the rating'}
        problem={problem}
        isOff={name.trim() === '' || ratedKg === undefined}
        onAct={() => {
          if (ratedKg === undefined) return
          const rackId = known?.id ?? newId()
          if (!attempt({ kind: 'setRack', rackId, name: known?.name ?? name.trim(), ratedKg })) return
          setName('')
          setRated(undefined)
        }}
      >
        <div className="grid grid-cols-2 gap-3">
          <TextField
            label="Rack or shelf"
            hint="As pieces have it: rack 2, or rack 2, shelf b."
            value={name}
            onChange={(event) => setName(event.target.value)}
          />
          <NumberField label="Rated for" unit="kg" min={0} value={ratedKg} onValue={setRated} />
        </div>
        <p className="text-small text-umber">
          The figure is the maker’s or the building’s. Pieces at rest in the archive are not counted.
        </p>
      </ActForm>
    </Dialog>
  )
}
