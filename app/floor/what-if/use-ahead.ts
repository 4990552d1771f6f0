'use client'
// The list way of "what if": the row one looks at, and what choosing it would bring.
import { useState } from 'react'
import type { Wanted } from './say-what-if.ts'
import { useWhatIf, type WhatIfQuestion } from './use-what-if.ts'

/** For a ChooseButton of places: `onLook` and `ahead`. */
export function useAhead(
  turn: Wanted,
  { date, from }: Pick<WhatIfQuestion, 'date' | 'from'>,
): { readonly onLook: (placeId: string | null) => void; readonly ahead: string | undefined } {
  const [question, setQuestion] = useState<WhatIfQuestion | null>(null)
  const answer = useWhatIf(question)
  const onLook = (placeId: string | null) => {
    if (placeId === (question?.turns[0]?.placeId ?? null)) return
    setQuestion(placeId === null ? null : { date, turns: [{ ...turn, placeId: placeId as Wanted['placeId'] }], from })
  }
  return { onLook, ahead: answer?.words }
}
