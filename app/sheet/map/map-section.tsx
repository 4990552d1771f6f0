'use client'
// The exposure map on a Sheet: looked at, and drawn on. Loaded after the Sheet has painted.
import { useState } from 'react'
import type { StrokeKind } from '#lib/words'
import { Button, Dialog, FoldingSection, Notice } from '../../_parts/controls/index.ts'
import type { SheetAt } from '../sheet-at.ts'
import { MapEditor } from './map-editor.tsx'
import { MapView, useChosen, useDrawables } from './map-view.tsx'

/** What a hand at the bone must not miss. */
const bounds: readonly StrokeKind[] = ['keep off', 'stop line']

/** The section. */
export function MapSection({ at }: { readonly at: SheetAt }) {
  const all = useDrawables(at.sheet.id)
  const { on, setKey } = useChosen(all)
  const [isOpen, setOpen] = useState(false)
  const drawn = all.flatMap((one) => one.strokes)
  const strokes = drawn.length
  const isBounded = drawn.some(({ what }) => bounds.includes(what))
  const stopLine = at.sheet.specimen?.stopLine ?? ''
  if (!on || (strokes === 0 && !at.mayWrite)) return null
  return (
    <FoldingSection
      id="map"
      title="Exposure map"
      brief={isBounded ? null : strokes === 0 ? 'nothing drawn' : `${strokes} drawn`}
      aside={strokes > 0 ? `${strokes}` : undefined}
    >
      {strokes === 0 ? (
        <Notice kind="empty">Nobody has drawn yet where bone shows, where to follow it and where not to go.</Notice>
      ) : null}
      <MapView all={all} on={on} onKey={setKey} stopLine={stopLine} />
      {at.mayWrite ? (
        <Button
          className="no-print mt-3"
          mark="note"
          aria-haspopup="dialog"
          onClick={() => {
            // What somebody else draws elsewhere must not turn the sheet under the pen.
            setKey(on.key)
            setOpen(true)
          }}
        >
          Draw on it…
        </Button>
      ) : null}
      <Dialog isOpen={isOpen} width="wide" title={on.name} onClose={() => setOpen(false)}>
        <MapEditor key={on.key} at={at} on={on} />
      </Dialog>
    </FoldingSection>
  )
}
