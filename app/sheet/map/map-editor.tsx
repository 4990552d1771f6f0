'use client'
// Drawing a map: what the next stroke says, how near one looks, the board, and every stroke in a list, where it can be
// wiped out by whoever drew it or by the staff. Each stroke is an act of its own: two may draw on one map at once.
import { useState } from 'react'
import { type StrokeKind, strokeKinds } from '#lib/words'
import { useNewId } from '../../_board/index.ts'
import { Button, Check, Notice } from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { momentOf, nameOf, type SheetAt } from '../sheet-at.ts'
import type { Drawable } from './grounds.ts'
import { MapBoard } from './map-board.tsx'
import { StrokeSample } from './map-picture.tsx'
import { sayRun, sayStroke } from './say.ts'

const ZOOMS = [1, 1.5, 2, 3, 4] as const

type MapEditorProps = { readonly at: SheetAt; readonly on: Drawable }

/** The board with its tools. */
export function MapEditor({ at, on }: MapEditorProps) {
  const { attempt, problem } = useTry()
  const newId = useNewId()
  const [tool, setTool] = useState<StrokeKind | 'move'>(on.photo ? 'bone shows' : 'outline')
  const [zoom, setZoom] = useState(0)
  const [chosenId, setChosenId] = useState<string | null>(null)
  const pieceId = at.sheet.piece.id
  const what = tool === 'move' ? null : tool
  const chosen = on.strokes.find(({ id }) => id === chosenId)
  const wipe = (withdraws: string) => {
    if (attempt({ kind: 'wipeStroke', strokeId: newId(), pieceId, withdraws })) setChosenId(null)
  }
  const mayWipe = (by: string) => at.isStaff || by === at.me
  const own = on.strokes.findLast(({ by }) => by === at.me)
  return (
    <div className="flex flex-col gap-3">
      <fieldset className="flex flex-wrap gap-x-5">
        <legend className="font-strong">The next stroke says</legend>
        {strokeKinds
          .filter((kind) => kind !== 'outline' || on.photo === null)
          .map((kind) => (
            <Check
              key={kind}
              oneOf="stroke"
              label={
                <span className="flex items-center gap-2">
                  <StrokeSample what={kind} /> {sayStroke[kind]}
                </span>
              }
              isOn={tool === kind}
              onToggle={() => setTool(kind)}
            />
          ))}
        <Check oneOf="stroke" label="None: move and choose" isOn={tool === 'move'} onToggle={() => setTool('move')} />
      </fieldset>
      <MapBoard
        on={on}
        what={what}
        zoom={ZOOMS[zoom] ?? 1}
        chosenId={chosenId}
        onChoose={setChosenId}
        onLine={(points) => {
          if (what === null) return
          attempt({
            ...{ kind: 'drawStroke', strokeId: newId(), pieceId, what },
            ...{ ...on.ground, points: points.map(([x, y]): [number, number] => [x, y]) },
          })
        }}
      />
      <div className="flex flex-wrap items-center gap-3">
        <Button disabled={zoom === 0} onClick={() => setZoom(zoom - 1)}>
          Farther
        </Button>
        <Button disabled={zoom === ZOOMS.length - 1} onClick={() => setZoom(zoom + 1)}>
          Nearer
        </Button>
        {own ? (
          <Button kind="quiet" onClick={() => wipe(own.id)}>
            Wipe out my last stroke
          </Button>
        ) : null}
        {chosen && mayWipe(chosen.by) ? (
          <Button kind="ink" onClick={() => wipe(chosen.id)}>
            Wipe out the chosen one
          </Button>
        ) : null}
      </div>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      <ul aria-label="Strokes">
        {on.strokes.map((stroke) => (
          <li
            key={stroke.id}
            className="flex min-h-11 flex-wrap items-center gap-3 border-b border-line"
            aria-current={stroke.id === chosenId ? 'true' : undefined}
          >
            <StrokeSample what={stroke.what} />
            <span className="min-w-40 flex-1">
              <b>{sayStroke[stroke.what]}</b>, {sayRun(stroke)}{' '}
              <span className="text-small text-umber">
                {nameOf(at, stroke.by)}, {momentOf(at, stroke.at)}
              </span>
            </span>
            <Button
              kind="quiet"
              aria-pressed={stroke.id === chosenId}
              onClick={() => setChosenId(stroke.id === chosenId ? null : stroke.id)}
            >
              Show
            </Button>
            {mayWipe(stroke.by) ? (
              <Button kind="quiet" onClick={() => wipe(stroke.id)}>
                Wipe out
              </Button>
            ) : null}
          </li>
        ))}
      </ul>
    </div>
  )
}
