'use client'
// The exposure map of a piece to look at: one view at a time, the key in words, and what the Sheet says of the stop line.
import { useState } from 'react'
import { photosShown, strokesOf } from '#lib/rules'
import { type StrokeKind, strokeKinds } from '#lib/words'
import { useBoard } from '../../_board/index.ts'
import { Select } from '../../_parts/controls/index.ts'
import { type Drawable, drawablesOf } from './grounds.ts'
import { MapPicture, StrokeSample } from './map-picture.tsx'
import { sayMap, sayStroke } from './say.ts'
import './map.css'

/** What the maps of a piece are drawn on; the drawn ones first. */
export function useDrawables(pieceId: string): readonly Drawable[] {
  const photos = useBoard((records) => [...records.photo.values()].filter((one) => one.pieceId === pieceId))
  const strokes = useBoard((records) => [...records.stroke.values()].filter((one) => one.pieceId === pieceId))
  return drawablesOf(photosShown(photos, pieceId), strokesOf(strokes, pieceId))
}

/** One of them, chosen by key; the first while nobody has chosen. */
export function useChosen(all: readonly Drawable[]) {
  const [key, setKey] = useState<string | null>(null)
  return { on: all.find((one) => one.key === key) ?? all[0], setKey }
}

type MapViewProps = {
  readonly all: readonly Drawable[]
  readonly on: Drawable
  readonly onKey: (key: string) => void
  readonly stopLine: string
}

/** The picture with its key. */
export function MapView({ all, on, onKey, stopLine }: MapViewProps) {
  const drawn = strokeKinds.filter((what) => on.strokes.some((stroke) => stroke.what === what))
  return (
    <div className="flex flex-col gap-2 pt-3">
      {all.length > 1 ? (
        <Select
          label="View"
          className="no-print"
          value={on.key}
          onValue={onKey}
          choices={all.map(({ key, name, strokes }) => ({
            value: key,
            label: strokes.length === 0 ? `${name}, nothing drawn yet` : name,
          }))}
        />
      ) : null}
      <MapPicture on={on} label={sayMap(on)} />
      <Key drawn={drawn} />
      {stopLine === '' ? null : (
        <p>
          <b>Stop line, in words:</b> {stopLine}.
        </p>
      )}
    </div>
  )
}

function Key({ drawn }: { readonly drawn: readonly StrokeKind[] }) {
  if (drawn.length === 0) return null
  return (
    <ul className="flex flex-wrap gap-x-6 gap-y-1" aria-label="What the strokes say">
      {drawn.map((what) => (
        <li key={what} className="flex items-center gap-2">
          <StrokeSample what={what} />
          {sayStroke[what]}
        </li>
      ))}
    </ul>
  )
}
