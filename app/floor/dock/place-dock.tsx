'use client'
// The chosen place: what it is, what lies there, who works there and what may be done about it, by role. Docks in the
// margin of a desk and under the plan of a tablet; every drag of the plan has its button here.
import { useEffect, useRef } from 'react'
import type { Floor, PlaceOnFloor } from '#lib/views'
import { useOthers, useWho } from '../../_board/index.ts'
import { Button, FieldNumber, Fold, Notice } from '../../_parts/controls/index.ts'
import { Stone } from '../../_parts/stone/index.ts'
import { later } from '../../_shell/later.tsx'
import { useTry } from '../../_shell/use-try.ts'
import { sayCount, sayKg } from '../../_text/index.ts'
import type { FloorAt } from '../use-floor.ts'
import { names, tagDate } from '../words.ts'
import { ClaimHere } from './claim-here.tsx'
import { ClosePlace } from './close-place.tsx'
import { PieceCard, type PieceCardProps } from './piece-card.tsx'
import { SeatDialog } from './seat-dialog.tsx'
import { SitterRow } from './sitter-row.tsx'

const PlaceSafety = later(async () => (await import('../../safety/place-safety.tsx')).PlaceSafety)

export type PlaceDockProps = {
  readonly at: FloorAt
  readonly floor: Floor
  readonly entry: PlaceOnFloor
  readonly onClose: () => void
}

/** Everything about one place in the chosen shift. */
export function PlaceDock({ at, floor, entry, onClose }: PlaceDockProps) {
  const who = useWho()
  const heading = useRef<HTMLHeadingElement>(null)
  const { place, sitters, pieces, isClosed } = entry
  const isStaff = who?.role === 'manager' || who?.role === 'preparator'
  const opener = useRef<Element | null>(null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: another place takes the focus anew
  useEffect(() => {
    opener.current = document.activeElement
    heading.current?.focus({ preventScroll: true })
  }, [place.id])
  // Closed, it leaves the keyboard on the place it was opened from.
  useEffect(
    () => () => {
      const from = opener.current
      if (document.activeElement === document.body && (from instanceof HTMLElement || from instanceof SVGElement))
        from.focus({ preventScroll: true })
    },
    [],
  )
  return (
    <section
      className="flex flex-col gap-4 border-[2.6px] border-ink bg-plaster p-4"
      aria-labelledby="dock-heading"
      onKeyDown={(event) => {
        if (event.key === 'Escape' && !event.defaultPrevented) onClose()
      }}
    >
      <header className="flex items-start gap-3">
        <div className="min-w-0 flex-1">
          <h2 id="dock-heading" ref={heading} tabIndex={-1} className="flex items-baseline gap-3 outline-none">
            <span className="text-page font-strong">{place.code}</span>
            <span className="named text-section">{place.name}</span>
          </h2>
          <p className="text-small text-umber">
            {[
              sayCount(place.seats, 'seat'),
              ...place.features,
              ...(place.airLines > 0 ? [sayCount(place.airLines, 'air line')] : []),
              `bears ${sayKg(place.loadKgMax)}`,
            ].join(', ')}
          </p>
          <OthersHere placeId={place.id} />
        </div>
        <Button kind="quiet" mark="close" label="Close this panel" onClick={onClose} />
      </header>
      {isClosed ? <ClosedNotice entry={entry} isStaff={isStaff} /> : null}
      <PlaceSafety at={at} placeId={place.id} />
      {place.note === '' ? null : <p>{place.note}</p>}
      {sitters.length > 0 ? (
        <ul className="border-t border-line">
          {sitters.map((sitter) => (
            <SitterRow key={sitter.personId} at={at} floor={floor} sitter={sitter} pieces={pieces} />
          ))}
        </ul>
      ) : null}
      {pieces.map((piece) =>
        pieces.length === 1 || sitters.some((sitter) => sitter.pieceId === piece.pieceId) ? (
          <PieceCard key={piece.pieceId} at={at} piece={piece} sitters={sitters} />
        ) : (
          <LyingHere key={piece.pieceId} at={at} piece={piece} sitters={sitters} />
        ),
      )}
      {pieces.length === 0 && !isClosed ? <p className="named text-say">Nothing lies here.</p> : null}
      <Acts at={at} floor={floor} entry={entry} isStaff={isStaff} />
    </section>
  )
}

/** A piece nobody works on now, folded so that the people and their pieces stay in sight. */
function LyingHere(props: PieceCardProps) {
  const { pieceId, stage, lengthM, widthM, number, name } = props.piece
  return (
    <Fold
      className="border-t border-line"
      title={
        <>
          <Stone seed={pieceId} stage={stage} size={34} lengthM={lengthM} widthM={widthM} />
          <span className="min-w-0 flex-1 text-ink">
            <FieldNumber>{number}</FieldNumber> <span className="named">{name}</span>
          </span>
        </>
      }
    >
      <PieceCard {...props} />
    </Fold>
  )
}

function OthersHere({ placeId }: { readonly placeId: string }) {
  const others = useOthers().filter((other) => other.at === `place/${placeId}`)
  if (others.length === 0) return null
  return (
    <p className="text-small text-umber" role="status">
      {names(others.map((other) => other.name))} {others.length === 1 ? 'looks' : 'look'} at it too.
    </p>
  )
}

function ClosedNotice({ entry, isStaff }: { readonly entry: PlaceOnFloor; readonly isStaff: boolean }) {
  const { attempt, problem } = useTry()
  const { place } = entry
  const until = place.closedUntil ? ` until ${tagDate(place.closedUntil)}` : ''
  return (
    <Notice
      kind="stale"
      action={
        isStaff ? (
          <Button onClick={() => attempt({ kind: 'closePlace', placeId: place.id, until: null, reason: '' })}>
            Back in use
          </Button>
        ) : undefined
      }
    >
      Out of use{until}
      {place.closedReason ? `: ${place.closedReason}` : ''}. {problem}
    </Notice>
  )
}

function Acts({ at, floor, entry, isStaff }: ActsProps) {
  const role = useWho()?.role
  if (entry.isClosed || at.isPast || !at.shift || role === undefined || role === 'researcher' || role === 'wall')
    return null
  return (
    <div className="flex flex-col gap-3 border-t border-line pt-3">
      {entry.freeSeats > 0 ? <ClaimHere at={at} floor={floor} entry={entry} /> : null}
      {isStaff ? (
        <div className="flex flex-wrap gap-2">
          {entry.freeSeats > 0 ? <SeatDialog at={at} floor={floor} placeId={entry.place.id} /> : null}
          <ClosePlace place={entry.place} today={at.today} />
        </div>
      ) : null}
    </div>
  )
}

type ActsProps = Pick<PlaceDockProps, 'at' | 'floor' | 'entry'> & { readonly isStaff: boolean }
