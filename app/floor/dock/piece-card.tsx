'use client'
// A piece at the chosen place: its stone, its number, its date, how gently it may be worked on, and where it goes next.
import Link from 'next/link'
import { useState } from 'react'
import type { PieceTag, Sitter } from '#lib/views'
import { useWho } from '../../_board/index.ts'
import { Button, ButtonFace, buttonClass, Dialog, Select, TextField } from '../../_parts/controls/index.ts'
import { chanceWords, ForceComb } from '../../_parts/figures/index.ts'
import { Mark } from '../../_parts/marks/index.ts'
import { Stone } from '../../_parts/stone/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { sayDate, sayKg, sayMetres } from '../../_text/index.ts'
import { PieceClocks } from '../../clocks/clocks-section.tsx'
import type { FloorAt } from '../use-floor.ts'

export type PieceCardProps = {
  readonly at: FloorAt
  readonly piece: PieceTag
  readonly sitters: readonly Sitter[]
}

/** The piece with its ceiling and its ways. */
export function PieceCard({ at, piece, sitters }: PieceCardProps) {
  const who = useWho()
  const isStaff = who?.role === 'manager' || who?.role === 'preparator'
  const isMine = sitters.some((sitter) => sitter.personId === who?.personId && sitter.pieceId === piece.pieceId)
  const fragile = at.records.specimen.get(piece.pieceId as never)?.fragile ?? ''
  return (
    <div className="flex flex-col gap-2 border-t border-line pt-3">
      <div className="flex items-center gap-4">
        <Stone
          seed={piece.pieceId}
          stage={piece.stage}
          size={96}
          lengthM={piece.lengthM}
          widthM={piece.widthM}
          label={`${piece.number}, ${piece.stage}`}
        />
        <div className="min-w-0">
          <p className="inked text-section">{piece.number}</p>
          <p className="named text-say">{piece.name}</p>
          <p className="text-small text-umber">
            {piece.stage}, {sayMetres(piece.lengthM)}, {sayKg(piece.massKg)}
            {piece.isTied ? ', cannot be moved now' : ''}
          </p>
          {piece.due ? (
            <p className="flex items-center gap-1.5 font-strong">
              <Mark name={piece.isAtRisk ? 'undercut' : 'plumb'} size={20} />
              due {sayDate(piece.due.date, 'short')}
              {piece.due.tenths === null ? '' : `, ${chanceWords(piece.due.tenths)}`}
            </p>
          ) : null}
        </div>
      </div>
      <Ceiling at={at} piece={piece} sitters={sitters} />
      {fragile === '' ? null : (
        <p className="flex items-start gap-2">
          <Mark name="fragile" size={22} />
          <span>
            <b>Fragile</b> {fragile}
          </span>
        </p>
      )}
      <div className="flex flex-wrap gap-2">
        <Link className={buttonClass('line')} href={`/sheet/${piece.pieceId}`}>
          <ButtonFace mark="sheet">Sheet</ButtonFace>
        </Link>
        {isStaff || isMine ? <Shelve at={at} piece={piece} /> : null}
      </div>
      {at.isToday ? <PieceClocks pieceId={piece.pieceId} number={piece.number} mayWrite={isStaff || isMine} /> : null}
    </div>
  )
}

/** The force comb with today's technique, for specimens. */
function Ceiling({ at, piece, sitters }: PieceCardProps) {
  const specimen = at.records.specimen.get(piece.pieceId as never)
  const techniques = at.records.lab.get('lab')?.techniques ?? []
  const ladder = techniques.filter((one) => one.force !== null).toSorted((a, b) => (a.force ?? 0) - (b.force ?? 0))
  const top = ladder.findIndex((one) => one.id === specimen?.forceCeiling)
  if (!specimen || top < 0) return null
  const techniqueId = sitters.find((sitter) => sitter.pieceId === piece.pieceId)?.techniqueId
  const now = ladder.findIndex((one) => one.id === techniqueId)
  return (
    <ForceComb
      count={ladder.length}
      ceiling={top}
      now={now >= 0 ? now : undefined}
      words={`no stronger than ${ladder[top]?.name.toLowerCase() ?? ''}`}
    />
  )
}

function Shelve({ at, piece }: Pick<PieceCardProps, 'at' | 'piece'>) {
  const { attempt, problem, clear } = useTry()
  const [isOpen, setOpen] = useState(false)
  const record = at.records.specimen.get(piece.pieceId as never) ?? at.records.jacket.get(piece.pieceId as never)
  const [shelf, setShelf] = useState(record?.shelf ?? '')
  const [placeId, setPlaceId] = useState('')
  if (!record) return null
  const places = [...at.records.place.values()].toSorted((a, b) => (a.code < b.code ? -1 : 1))
  return (
    <>
      <Button
        mark="rack"
        aria-haspopup="dialog"
        onClick={() => {
          clear()
          setShelf(record.shelf)
          setPlaceId('')
          setOpen(true)
        }}
      >
        Move or shelve…
      </Button>
      <Dialog
        isOpen={isOpen}
        width="narrow"
        title={
          <>
            Where does <span className="inked">{piece.number}</span> go
          </>
        }
        onClose={() => setOpen(false)}
        actions={
          <Button
            kind="ink"
            onClick={() => {
              const isDone = attempt({
                kind: 'shelve',
                pieceId: record.id,
                shelf,
                placeId: placeId === '' ? null : (placeId as never),
              })
              if (isDone) setOpen(false)
            }}
          >
            {placeId === '' ? 'Put it there' : 'Bring it there'}
          </Button>
        }
      >
        <div className="flex flex-col gap-4">
          <Select
            label="Place"
            value={placeId}
            onValue={setPlaceId}
            choices={[
              { value: '', label: 'On the shelf' },
              ...places.map((place) => ({ value: place.id as string, label: `${place.code} ${place.name}` })),
            ]}
            problem={problem}
          />
          <TextField
            label="Shelf"
            hint="In the lab's own words: rack 1, shelf b."
            value={shelf}
            onChange={(event) => setShelf(event.target.value)}
          />
        </div>
      </Dialog>
    </>
  )
}
