'use client'
// Where the manager lays out the room: places by hand, by arrow keys or by numbers; walls, doors, windows, racks and
// the compressor the same way. Every change is an act of its own that can be taken back.
import { useState } from 'react'
import { duplicatePlace, insideRoom, newPlace } from '#lib/views'
import { kinds, type Place, type PlaceId, type RecordOf } from '#lib/words'
import { useBoard, useNewId, usePresence, useWho } from '../_board/index.ts'
import { Button, ChooseButton, Notice, PageHeading, Section } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { EditPlan } from './edit-plan.tsx'
import { PlaceForm } from './place-form.tsx'
import { type Picked, RoomForm } from './room-form.tsx'

/** A room to begin with, when there is none: 10 by 7 metres with one door. */
const firstRoom: RecordOf<'room'> = {
  id: 'room',
  widthM: 10,
  depthM: 7,
  partitions: [],
  doors: [{ from: { xM: 4.5, yM: 7 }, to: { xM: 5.5, yM: 7 } }],
  windows: [],
  compressor: null,
  racks: [],
}

const placeKinds = kinds.place.shape.kind.options

/** The editor. */
export function RoomScreen() {
  const who = useWho()
  const records = useBoard((board) => board)
  const newId = useNewId()
  const { attempt, problem } = useTry()
  const [picked, setPicked] = useState<Picked | null>(null)
  const others = usePresence('room')
  const room = records.room.get('room')
  const places = [...records.place.values()].toSorted((a, b) => (a.code < b.code ? -1 : 1))
  if (who && who.role !== 'manager')
    return (
      <div className="margin-page py-6">
        <Notice kind="empty">Only the manager lays out the room.</Notice>
      </div>
    )
  if (!room)
    return (
      <div className="margin-page py-6">
        <Notice
          kind="empty"
          action={
            <Button kind="ink" onClick={() => attempt({ kind: 'setRoom', room: firstRoom })}>
              Begin with a room of 10 by 7 metres
            </Button>
          }
        >
          The room is not drawn yet. Begin with four walls; everything can be moved afterwards.
        </Notice>
        {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      </div>
    )
  const add = (kind: Place['kind']) => {
    const place = newPlace(room, places, kind, newId() as PlaceId)
    if (attempt({ kind: 'addPlace', place })) setPicked({ what: 'place', id: place.id })
  }
  const move = (placeId: string, xM: number, yM: number) => {
    const place = records.place.get(placeId)
    if (!place) return
    const at = insideRoom(room, { ...place, xM, yM })
    if (at.xM !== place.xM || at.yM !== place.yM)
      attempt({ kind: 'editPlace', placeId: place.id, patch: { xM: at.xM, yM: at.yM } })
  }
  const chosen = picked?.what === 'place' ? records.place.get(picked.id) : undefined
  return (
    <div className="margin-page pb-10">
      <PageHeading
        title="Room and places"
        actions={
          <ChooseButton
            word="Add a place…"
            kind="ink"
            mark="add"
            title="What stands there"
            destinations={placeKinds.map((kind) => ({ id: kind, label: kind }))}
            onChoose={(kind) => add(kind as Place['kind'])}
          />
        }
      />
      {others.length > 0 ? (
        <Notice kind="plain" mark="person">
          {others.map((other) => other.name).join(', ')} {others.length === 1 ? 'is' : 'are'} laying out the room too.
        </Notice>
      ) : null}
      <p className="pb-3 text-umber">
        Drag, or reach a thing by Tab and push it with the arrows: 5 cm a step, with Shift half a metre. Ctrl+Z takes
        the last step back.
      </p>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      <div className="floor-grid">
        <div className="floor-plan min-w-0">
          <EditPlan
            room={room}
            places={places}
            picked={picked}
            onPick={setPicked}
            onMove={move}
            onRoom={(next) => attempt({ kind: 'setRoom', room: next })}
          />
        </div>
        <div className="floor-margin flex flex-col gap-6">
          {chosen ? (
            <PlaceForm
              key={chosen.id}
              place={chosen}
              room={room}
              onGone={() => setPicked(null)}
              onDuplicate={() => {
                const copy = duplicatePlace(room, places, chosen, newId() as PlaceId)
                if (attempt({ kind: 'addPlace', place: copy })) setPicked({ what: 'place', id: copy.id })
              }}
            />
          ) : null}
          <RoomForm room={room} picked={picked} onPick={setPicked} />
          <Section title="Places" aside={places.length}>
            <ul>
              {places.map((place) => (
                <li key={place.id} className="border-b border-line">
                  <button
                    type="button"
                    aria-pressed={place.id === chosen?.id}
                    className={`flex min-h-11 w-full items-center gap-3 text-left ${place.id === chosen?.id ? 'row-chosen' : ''}`}
                    onClick={() => setPicked({ what: 'place', id: place.id })}
                  >
                    <span className="w-10 flex-none font-strong">{place.code}</span>
                    <span className="min-w-0 flex-1">{place.name}</span>
                    <span className="text-small text-umber">
                      {place.widthM} × {place.depthM} m
                    </span>
                  </button>
                </li>
              ))}
            </ul>
          </Section>
        </div>
      </div>
    </div>
  )
}
