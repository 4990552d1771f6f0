'use client'
// "What if I …" while something is in the hand or a row has the focus: refusals of the rules at once from the board in
// the browser, all else from the server's solver a moment later. The newest question wins.
import { useEffect, useState } from 'react'
import type { Considered } from '#lib/lineup'
import { useAsk, useBoard, useWouldRefuse } from '../../_board/index.ts'
import { sayFindings } from '../../_text/index.ts'
import { sayWhatIf, sayWish, type Wanted } from './say-what-if.ts'

export type WhatIfQuestion = {
  readonly date: string
  readonly turns: readonly Wanted[]
  /** The line-up one looks at, where it is not the posted one. */
  readonly from?: readonly Wanted[] | undefined
}

export type WhatIfAnswer = {
  /** no: a rule or somebody's turn stands against it. */
  readonly state: 'asking' | 'yes' | 'no' | 'unknown'
  readonly words: string
  readonly considered: Considered | null
}

/** A hand that sweeps over the room asks nothing on its way. */
const REST_MS = 110

/** Answers what would become of the day; null asks nothing. */
export function useWhatIf(question: WhatIfQuestion | null): WhatIfAnswer | null {
  const records = useBoard((board) => board)
  const wouldRefuse = useWouldRefuse()
  const findings =
    question?.turns.flatMap((turn) => wouldRefuse({ kind: 'hold', date: question.date, ...bare(turn) })) ?? []
  const rested = useRested(question === null || findings.length > 0 ? null : question)
  const asked = useAsk<Considered | { readonly refused: string }>('whatIf', rested && bodyOf(rested))
  if (question === null) return null
  const wish = sayWish(records, question.turns)
  if (findings.length > 0) {
    return {
      state: 'no',
      words: `${wish} cannot be. ${sayFindings(findings.slice(0, 1), records)}`,
      considered: null,
    }
  }
  const { answer } = asked
  if (rested !== question || answer === null)
    return { state: 'asking', words: `${wish}: looking ahead …`, considered: null }
  if ('refused' in answer)
    return { state: 'unknown', words: `${wish}: what follows is not known now.`, considered: null }
  return {
    state: answer.isPossible ? 'yes' : 'no',
    words: sayWhatIf(records, question.turns, answer),
    considered: answer,
  }
}

const bodyOf = ({ date, turns, from }: WhatIfQuestion) => ({
  date,
  turns: turns.map(bare),
  ...(from === undefined ? {} : { from: from.map(bare) }),
})

const bare = ({ shiftId, personId, pieceId, stepId, placeId }: Wanted): Wanted => ({
  shiftId,
  personId,
  pieceId,
  stepId,
  placeId,
})

/** The question once it has been the same for a moment. */
function useRested(question: WhatIfQuestion | null): WhatIfQuestion | null {
  const [rested, setRested] = useState<WhatIfQuestion | null>(null)
  useEffect(() => {
    if (question === null) return
    const timer = setTimeout(() => setRested(question), REST_MS)
    return () => {
      clearTimeout(timer)
      // So that no answer to this one is ever read as an answer to the next.
      setRested(null)
    }
  }, [question])
  return rested
}
