'use client'
// The lab's settings under the hand: what they are, and one way to keep a change with its early refusal in words.
import type { OpOf } from '#lib/ops'
import type { RecordOf } from '#lib/words'
import { useAct, useBoard } from '../_board/index.ts'
import { sayFindings } from '../_text/index.ts'

type LabPatch = OpOf<'setLab'>['patch']

export type LabInHand = {
  readonly lab: RecordOf<'lab'>
  /** Keeps a change; a sentence when it could not be. */
  readonly keep: (patch: LabPatch) => string | undefined
}

/** The settings; null before the board is open. */
export function useLab(): LabInHand | null {
  const act = useAct()
  const records = useBoard((board) => board)
  const lab = records.lab.get('lab')
  if (!lab) return null
  return {
    lab,
    keep: (patch) => {
      const done = act({ kind: 'setLab', patch })
      return done.ok ? undefined : sayFindings(done.findings, records)
    },
  }
}
