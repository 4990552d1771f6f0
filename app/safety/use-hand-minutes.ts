'use client'
// Minutes in the hand are on no board: whoever may read somebody's asks for them, and once more whenever other work is
// finished. Until the answer is here, and for everybody else, what is done counts as nought.
import { useEffect, useMemo, useState } from 'react'
import type { SafetyAnswer } from '#lib/views'
import type { PersonId, Records } from '#lib/words'
import { useAsk } from '../_board/index.ts'

const none: SafetyAnswer['works'] = []

/** Finished work with its minutes in the hand, of one person or (null) of all; nothing is asked while `mayRead` is false. */
export function useHandMinutes(
  records: Records,
  about: PersonId | null,
  mayRead: boolean,
): { readonly works: SafetyAnswer['works']; readonly answer: SafetyAnswer | null } {
  const done = useMemo(
    () =>
      [...records.work.values()]
        .filter((work) => work.state === 'finished' && (about === null || work.personId === about))
        .map(({ id, minutes }) => `${id} ${minutes}`)
        .join(),
    [records.work, about],
  )
  // The server reads `about` alone; `done` is there so that something newly finished asks anew.
  const { answer } = useAsk<SafetyAnswer | { readonly refused: string }>('safety', mayRead ? { about, done } : null)
  const [kept, setKept] = useState<{ readonly about: PersonId | null; readonly answer: SafetyAnswer } | null>(null)
  useEffect(() => {
    if (answer !== null && !('refused' in answer)) setKept({ about, answer })
  }, [answer, about])
  const shown = mayRead && kept?.about === about ? kept.answer : null
  return { works: shown?.works ?? none, answer: shown }
}
