'use client'
// The exposure map at the point of work: where bone shows, where to follow it, where not to go. Nothing where nobody has
// drawn one.
import type { MyTurn } from '#lib/views'
import { useSheet } from '../_board/index.ts'
import { MapView, useChosen, useDrawables } from '../sheet/map/map-view.tsx'

/** The drawn views of the turn's piece. */
export function TurnMap({ turn }: { readonly turn: MyTurn }) {
  const { piece } = turn
  useSheet(piece.id)
  const drawn = useDrawables(piece.id).filter(({ strokes }) => strokes.length > 0)
  const { on, setKey } = useChosen(drawn)
  if (!on) return null
  return (
    <section className="border-b border-ink pb-3">
      <h3 className="heading pt-3 text-section">Where to go, and where not</h3>
      <MapView all={drawn} on={on} onKey={setKey} stopLine={'stopLine' in piece ? piece.stopLine : ''} />
    </section>
  )
}
