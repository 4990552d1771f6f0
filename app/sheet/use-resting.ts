'use client'
// A piece at rest in the archive: asked of the server when the board does not have it, and laid over the board's
// records, so that the same Sheet can be read of it.
import { useEffect, useMemo, useState } from 'react'
import { put, type RecordOf, type Records, withChanges } from '#lib/words'
import { get } from '../_shell/http.ts'

export type RestingState =
  | { readonly state: 'asking' }
  | { readonly state: 'found'; readonly resting: RecordOf<'resting'> }
  | { readonly state: 'missing' }
  | { readonly state: 'out-of-reach'; readonly again: () => void }

/** The resting bundle of a piece; asks nothing while `isWanted` is false. */
export function useResting(pieceId: string, isWanted: boolean): RestingState {
  const [round, setRound] = useState(0)
  const [found, setFound] = useState<RestingState>({ state: 'asking' })
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new round asks the same again
  useEffect(() => {
    if (!isWanted) return
    let isOver = false
    setFound({ state: 'asking' })
    // Laid to rest here a moment ago: the server may still be keeping it, so a miss is asked once more.
    const ask = (isLast: boolean) =>
      get<{ readonly item: RecordOf<'resting'> | null }>(`/api/archive?id=${encodeURIComponent(pieceId)}`).then(
        (answer) => {
          if (isOver) return
          if (!answer.ok) setFound({ state: 'out-of-reach', again: () => setRound((now) => now + 1) })
          else if (answer.body.item) setFound({ state: 'found', resting: answer.body.item })
          else if (isLast) setFound({ state: 'missing' })
          else timer = setTimeout(() => void ask(true), RETRY_MS)
        },
      )
    let timer: ReturnType<typeof setTimeout> | undefined
    void ask(false)
    return () => {
      isOver = true
      clearTimeout(timer)
    }
  }, [pieceId, isWanted, round])
  return found
}

const RETRY_MS = 900

/** The board's records with a resting piece and all that belongs to it among them. */
export function useWithResting(records: Records, resting: RecordOf<'resting'> | null): Records {
  return useMemo(() => {
    if (!resting) return records
    return withChanges(records, [
      ...(resting.jacket ? [put('jacket', resting.jacket)] : []),
      ...(resting.specimen ? [put('specimen', resting.specimen)] : []),
      ...resting.steps.map((record) => put('step', record)),
      ...resting.dues.map((record) => put('due', record)),
      ...resting.escalations.map((record) => put('escalation', record)),
      ...resting.questions.map((record) => put('question', record)),
      ...resting.watches.map((record) => put('watch', record)),
    ])
  }, [records, resting])
}
