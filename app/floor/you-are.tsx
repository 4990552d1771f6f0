'use client'
// On the phone, one's own seat first: you are at M1, with the skull, by needle.
import Link from 'next/link'
import type { Floor } from '#lib/views'
import { useWho } from '../_board/index.ts'
import { buttonClass } from '../_parts/controls/index.ts'
import { Stool } from '../_parts/figures/index.ts'
import { stoolState } from './shapes.ts'
import type { FloorAt } from './use-floor.ts'

/** One's own seat in the shift; nothing for who has none. */
export function YouAre({ at, floor }: { readonly at: FloorAt; readonly floor: Floor }) {
  const who = useWho()
  const entry = floor.places.find(({ sitters }) => sitters.some((sitter) => sitter.personId === who?.personId))
  const sitter = entry?.sitters.find((one) => one.personId === who?.personId)
  if (!entry || !sitter) return null
  const piece = entry.pieces.find((tag) => tag.pieceId === sitter.pieceId)
  return (
    <div className="flex items-center gap-3 border-[2.6px] border-ink bg-plaster px-3 py-2">
      <Stool state={stoolState(sitter)} size={28} />
      <p className="min-w-0 flex-1">
        <b>You are at {entry.place.code}</b>, {entry.place.name}
        <span className="block text-small text-umber">
          {piece ? `with ${piece.name.toLowerCase()}, ` : ''}
          {sitter.technique}
        </span>
      </p>
      {at.isToday ? (
        <Link className={buttonClass('quiet')} href="/mine">
          My shift
        </Link>
      ) : null}
    </div>
  )
}
