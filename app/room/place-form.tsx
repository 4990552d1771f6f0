'use client'
import { useState } from 'react'
// One place by words and numbers: what it is, where it stands, how many sit there, what it offers.
import type { OpOf } from '#lib/ops'
import { boxOf, insideRoom } from '#lib/views'
import { Feature, Place, type RecordOf } from '#lib/words'
import { useAct, useBoard } from '../_board/index.ts'
import { Button, Check, Dialog, Section, Select } from '../_parts/controls/index.ts'
import { sayFindings } from '../_text/index.ts'
import { Measured } from '../settings/tool-figures.tsx'
import { KeptNumber, KeptText } from './kept-field.tsx'

export type PlaceFormProps = {
  readonly place: RecordOf<'place'>
  readonly room: RecordOf<'room'>
  readonly onDuplicate: () => void
  readonly onGone: () => void
}

type Patch = OpOf<'editPlace'>['patch']

const { kind } = Place.shape

/** The chosen place. */
export function PlaceForm({ place, room, onDuplicate, onGone }: PlaceFormProps) {
  const act = useAct()
  const records = useBoard((board) => board)
  const [isRemoving, setRemoving] = useState(false)
  const [problem, setProblem] = useState<string>()
  const edit = (patch: Patch): string | undefined => {
    const done = act({ kind: 'editPlace', placeId: place.id, patch })
    return done.ok ? undefined : sayFindings(done.findings, records)
  }
  /** A change of size or turn may push it through a wall: it is brought back inside. */
  const moveTo = (patch: Partial<Pick<typeof place, 'xM' | 'yM' | 'widthM' | 'depthM' | 'rotationDeg'>>) => {
    const { xM, yM } = insideRoom(room, { ...place, ...patch })
    return edit({ ...patch, xM, yM })
  }
  const remove = () => {
    const done = act({ kind: 'removePlace', placeId: place.id })
    if (done.ok) onGone()
    else setProblem(sayFindings(done.findings, records))
  }
  const { w, h } = boxOf(place)
  return (
    <Section title={`${place.code} ${place.name}`}>
      <div className="flex flex-col gap-4 pt-3">
        <div className="grid grid-cols-[6rem_1fr] gap-3">
          <KeptText label="Code" value={place.code} isInked onKeep={(code) => edit({ code })} />
          <KeptText label="Name" value={place.name} onKeep={(name) => edit({ name })} />
        </div>
        <Select
          label="Kind"
          value={place.kind}
          choices={kind.options.map((value) => ({ value, label: value }))}
          onValue={(value) => setProblem(edit({ kind: value as typeof place.kind }))}
        />
        <fieldset className="grid grid-cols-2 gap-3">
          <legend className="sr-only">Where it stands</legend>
          <KeptNumber
            label="From the left wall"
            unit="m"
            value={place.xM}
            max={room.widthM}
            onKeep={(xM) => moveTo({ xM })}
          />
          <KeptNumber
            label="From the upper wall"
            unit="m"
            value={place.yM}
            max={room.depthM}
            onKeep={(yM) => moveTo({ yM })}
          />
          <KeptNumber label="Length" unit="m" value={place.widthM} min={0.3} onKeep={(widthM) => moveTo({ widthM })} />
          <KeptNumber label="Depth" unit="m" value={place.depthM} min={0.3} onKeep={(depthM) => moveTo({ depthM })} />
        </fieldset>
        <p className="text-small text-umber">
          Measured to its middle. It takes {w.toFixed(2)} by {h.toFixed(2)} m of the floor.
        </p>
        <fieldset className="flex flex-wrap items-end gap-3">
          <legend className="mb-1 text-small font-firm text-umber">Turn; at 0° its seats are below</legend>
          {[0, 90, 180, 270].map((rotationDeg) => (
            <Button
              key={rotationDeg}
              aria-pressed={place.rotationDeg === rotationDeg}
              onClick={() => setProblem(moveTo({ rotationDeg }))}
            >
              {rotationDeg}°
            </Button>
          ))}
        </fieldset>
        <fieldset className="grid grid-cols-3 gap-3">
          <legend className="sr-only">What it takes</legend>
          <KeptNumber label="Seats" value={place.seats} step={1} max={12} onKeep={(seats) => edit({ seats })} />
          <KeptNumber
            label="Air lines"
            value={place.airLines}
            step={1}
            max={12}
            onKeep={(airLines) => edit({ airLines })}
          />
          <KeptNumber
            label="Bears"
            unit="kg"
            value={place.loadKgMax}
            step={5}
            onKeep={(loadKgMax) => edit({ loadKgMax })}
          />
        </fieldset>
        <Check
          label="Only one piece at a time"
          isOn={place.isExclusive}
          onToggle={(isExclusive) => setProblem(edit({ isExclusive }))}
        />
        <Measured
          label="Sound here with no tool of one’s own"
          unit="dB(A)"
          max={120}
          hint="Measured at the seat with the other stations running as they do. Empty: the room’s level counts."
          value={place.backgroundDba ?? null}
          onKeep={(value) => edit({ backgroundDba: value })}
        />
        <Check
          label="Visitors look on without glass between"
          isOn={place.isInView ?? false}
          onToggle={(isInView) => setProblem(edit({ isInView }))}
        />
        <fieldset className="grid grid-cols-2 gap-x-3">
          <legend className="text-small font-firm text-umber">It has</legend>
          {Feature.options.map((feature) => (
            <Check
              key={feature}
              label={feature}
              isOn={place.features.includes(feature)}
              onToggle={(isOn) =>
                setProblem(
                  edit({
                    features: isOn ? [...place.features, feature] : place.features.filter((one) => one !== feature),
                  }),
                )
              }
            />
          ))}
        </fieldset>
        <KeptText label="Note" value={place.note} onKeep={(note) => edit({ note })} />
        {problem === undefined ? null : (
          <p role="alert" className="border-l-[5px] border-ink pl-3 font-firm">
            {problem}
          </p>
        )}
        <div className="flex flex-wrap gap-3">
          <Button onClick={onDuplicate}>Duplicate</Button>
          <Button aria-haspopup="dialog" onClick={() => setRemoving(true)}>
            Remove…
          </Button>
        </div>
      </div>
      <Dialog
        isOpen={isRemoving}
        width="narrow"
        title={`Remove ${place.code}`}
        onClose={() => setRemoving(false)}
        actions={
          <Button
            kind="ink"
            onClick={() => {
              setRemoving(false)
              remove()
            }}
          >
            Remove it
          </Button>
        }
      >
        The place leaves the plan. Records of work done there stay. It can be taken back with Undo.
      </Dialog>
    </Section>
  )
}
