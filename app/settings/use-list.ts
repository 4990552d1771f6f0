// A list of the settings under the hand: one way to keep it whole or with one entry changed, and to say why it was not kept.
import { useState } from 'react'
import type { LabInHand } from './use-lab.ts'

type Lists = {
  readonly [K in 'shifts' | 'techniques' | 'induction' | 'paths' | 'airLimits']: NonNullable<LabInHand['lab'][K]>
}

/** The list, the last problem in words, and what changes it. */
export function useList<K extends keyof Lists>({ lab, keep }: LabInHand, name: K) {
  type One = Lists[K][number]
  const [problem, setProblem] = useState<string>()
  const all: readonly One[] = lab[name] ?? []
  const keepAll = (next: readonly One[]): string | undefined => {
    const said = keep({ [name]: [...next] })
    setProblem(said)
    return said
  }
  return {
    all,
    problem,
    keepAll,
    edit: (id: string, patch: Partial<One>) => keepAll(all.map((one) => (one.id === id ? { ...one, ...patch } : one))),
    remove: (id: string) => keepAll(all.filter((one) => one.id !== id)),
  }
}
