'use client'
// Round the room in words: every place with what lies there and who works on it. On the phone this is the Floor; on a
// desk it is the same in reading order for whoever does not read the drawing.
import { memo } from 'react'
import type { Floor, PlaceOnFloor } from '#lib/views'
import { FieldNumber, Rows, Section } from '../_parts/controls/index.ts'
import { Stool } from '../_parts/figures/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { useHandler } from '../_parts/shared.ts'
import { Stone } from '../_parts/stone/index.ts'
import { stoolState } from './shapes.ts'
import { plural, tagDate } from './words.ts'

export type RoundListProps = {
  readonly floor: Floor
  readonly chosenId: string | null
  readonly onChoose: (placeId: string) => void
}

/** All places, those in use first. */
export function RoundList({ floor, chosenId, onChoose }: RoundListProps) {
  const choose = useHandler(onChoose)
  const isUsed = (entry: PlaceOnFloor) => entry.sitters.length > 0 || entry.pieces.length > 0
  const places = floor.places.toSorted((a, b) => Number(isUsed(b)) - Number(isUsed(a)))
  return (
    <Section title="Round the room">
      <Rows>
        {places.map((entry) => (
          <PlaceRow key={entry.place.id} entry={entry} isChosen={entry.place.id === chosenId} onChoose={choose} />
        ))}
      </Rows>
    </Section>
  )
}

const PlaceRow = memo(function PlaceRow({ entry, isChosen, onChoose }: PlaceRowProps) {
  const { place, pieces, sitters, isClosed, freeSeats } = entry
  const piece = pieces[0]
  return (
    <li className="border-b border-line">
      <button
        type="button"
        aria-pressed={isChosen}
        className={`flex min-h-14 w-full items-center gap-3 py-1.5 text-left ${isChosen ? 'row-chosen' : ''}`}
        onClick={() => onChoose(place.id)}
      >
        <span className="w-10 flex-none font-strong">{place.code}</span>
        <span className="grid w-11 flex-none place-items-center">
          {piece ? (
            <Stone seed={piece.pieceId} stage={piece.stage} size={42} lengthM={piece.lengthM} widthM={piece.widthM} />
          ) : null}
        </span>
        <span className="min-w-0 flex-1">
          <span className="block">
            {piece ? (
              <>
                <FieldNumber>{piece.number}</FieldNumber> <span className="named">{piece.name}</span>
                {pieces.length > 1 ? <span className="text-umber"> and {pieces.length - 1} more</span> : null}
              </>
            ) : (
              <span className="named">{place.name}</span>
            )}
          </span>
          <span className="block text-small text-umber">
            {isClosed
              ? `out of use${place.closedUntil ? ` until ${tagDate(place.closedUntil)}` : ''}`
              : sitters.length > 0
                ? sitters.map((sitter, index) => (
                    <span key={sitter.personId}>
                      {index > 0 ? ', ' : ''}
                      <b className="text-ink">{sitter.name}</b>
                      {sitter.look === 'late'
                        ? ` late${sitter.dueAt ? `, due ${sitter.dueAt}` : ''}`
                        : sitter.look === 'away'
                          ? ' away'
                          : ` ${sitter.technique}`}
                    </span>
                  ))
                : `${freeSeats} ${plural(freeSeats, 'seat', 'seats')} free`}
          </span>
        </span>
        <span className="flex flex-none items-center gap-1.5">
          {sitters.some((sitter) => sitter.how === 'held') ? <Mark name="hold" size={20} label="held" /> : null}
          {sitters.some((sitter) => sitter.how === 'claimed') ? <Mark name="claim" size={20} label="claimed" /> : null}
          {piece?.isAtRisk ? (
            <Mark name="undercut" size={20} label="at risk" />
          ) : piece?.due ? (
            <Mark name="plumb" size={20} label={`due ${tagDate(piece.due.date)}`} />
          ) : null}
          {sitters
            .filter((sitter) => stoolState(sitter) !== 'in')
            .map((sitter) => (
              <Stool key={sitter.personId} state={stoolState(sitter)} size={20} label={stoolState(sitter)} />
            ))}
        </span>
      </button>
    </li>
  )
})

type PlaceRowProps = {
  readonly entry: PlaceOnFloor
  readonly isChosen: boolean
  readonly onChoose: (placeId: string) => void
}
