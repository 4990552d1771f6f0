'use client'
// What just changed on the Floor by another hand, as one polite sentence for readers: who sits where now.
import { useEffect, useRef, useState } from 'react'
import type { Floor } from '#lib/views'
import type { Records } from '#lib/words'
import { useWho } from '../_board/index.ts'

/** The last change of a seat by somebody else; empty at first. */
export function useNews(floor: Floor | null, records: Records): string {
  const me = useWho()?.personId
  const before = useRef<{ readonly key: string; readonly seats: ReadonlyMap<string, string> } | null>(null)
  const [news, setNews] = useState('')
  useEffect(() => {
    if (!floor) return
    const key = `${floor.date} ${floor.shiftId}`
    const seats = new Map(floor.places.flatMap(({ place, sitters }) => sitters.map((one) => [one.personId, place.id])))
    const last = before.current
    before.current = { key, seats }
    if (last?.key !== key) return
    const told: string[] = []
    for (const [personId, placeId] of seats) {
      if (last.seats.get(personId) === placeId) continue
      const by = records.assignment.get(`${floor.date}.${floor.shiftId}.${personId}`)?.by
      const code = records.place.get(placeId)?.code ?? ''
      if (by !== me) told.push(`${records.person.get(personId)?.name ?? ''} is at ${code} now.`)
    }
    for (const personId of last.seats.keys()) {
      if (!seats.has(personId as never)) told.push(`${records.person.get(personId)?.name ?? ''} has no seat now.`)
    }
    if (told.length > 0) setNews(told.length > 4 ? `The line-up changed for ${told.length} people.` : told.join(' '))
  }, [floor, records, me])
  return news
}
