'use client'
// Doing an act and keeping, beside the button, the sentence that says why it could not be done.
import { useCallback, useState } from 'react'
import type { OpBody } from '#lib/ops'
import { useAct, useReadBoard } from '../_board/index.ts'
import { sayFindings } from '../_text/index.ts'

export type Try = {
  /** True when it was done (and shown at once). */
  readonly attempt: (body: OpBody) => boolean
  /** Why the last one was not done. */
  readonly problem: string | undefined
  readonly clear: () => void
}

/** An act with its early refusal in words. */
export function useTry(): Try {
  const act = useAct()
  const readBoard = useReadBoard()
  const [problem, setProblem] = useState<string>()
  const attempt = useCallback(
    (body: OpBody) => {
      const done = act(body)
      setProblem(done.ok ? undefined : sayFindings(done.findings, readBoard()))
      return done.ok
    },
    [act, readBoard],
  )
  return { attempt, problem, clear: useCallback(() => setProblem(undefined), []) }
}
