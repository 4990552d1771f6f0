'use client'
// The planner in a thread of its own for as long as the dialog is there.
import { useEffect, useMemo, useRef } from 'react'
import type { Asks } from './planner.ts'
import type { Question, Reply } from './planner-thread.ts'

export type AskPlanner = <K extends keyof Asks>(what: K, ask: Asks[K]['ask']) => Promise<Asks[K]['answer']>

/** Asks the thread; a question that the thread died of is never answered, and `onEnd` says so. */
export function usePlanner(onEnd: () => void): AskPlanner {
  const thread = useRef<Worker | null>(null)
  const waiting = useRef(new Map<number, (answer: unknown) => void>())
  const asked = useRef(0)
  const ended = useRef(onEnd)
  ended.current = onEnd
  useEffect(
    () => () => {
      thread.current?.terminate()
      thread.current = null
    },
    [],
  )
  return useMemo(() => {
    const open = () => {
      const worker = new Worker(new URL('./planner-thread.ts', import.meta.url), { type: 'module' })
      worker.onmessage = ({ data }: MessageEvent<Reply>) => {
        waiting.current.get(data.n)?.(data.answer)
        waiting.current.delete(data.n)
      }
      worker.onerror = () => ended.current()
      return worker
    }
    return (what, ask) =>
      new Promise((resolve) => {
        thread.current ??= open()
        const n = ++asked.current
        // Both ends are typed by `Asks`.
        waiting.current.set(n, resolve as (answer: unknown) => void)
        thread.current.postMessage({ n, what, ask } satisfies Question)
      })
  }, [])
}
