'use client'
// What a link to the Rack asks for: what fits for a seat one chose on the Floor, or a jacket to take in.
import { useSearchParams } from 'next/navigation'
import { useMemo } from 'react'

export type Asked = {
  readonly isFit: boolean
  readonly isIntake: boolean
  readonly date: string | null
  readonly shiftId: string | null
  readonly placeId: string | null
}

/** Reads the address; the same object while it stays the same. */
export function useAsked(): Asked {
  const search = useSearchParams()
  return useMemo(
    () => ({
      isFit: search.get('fit') === 'me',
      isIntake: search.get('intake') === 'jacket',
      date: search.get('day'),
      shiftId: search.get('shift'),
      placeId: search.get('place'),
    }),
    [search],
  )
}
