'use client'
// A whole form that stays on this device, field by field, until what it says was done: closed, refused, offline or with
// an empty battery, nothing typed is lost.
import { useCallback, useMemo } from 'react'
import { fitting, keptFields } from './kept-fields.ts'
import { useTyped } from './use-typed.ts'

export type KeptForm<T> = {
  readonly form: T
  readonly set: (patch: Partial<T>) => void
  /** What it says was done: begins anew, with `next` filled in where something stays the same. */
  readonly clear: (next?: Partial<T>) => void
  /** True when something was typed before and is still here. */
  readonly isTyped: boolean
}

/** The form kept under a name; fields that are not in `blank`, or of another type, are let go. */
export function useKeptForm<T extends object>(name: string, blank: T): KeptForm<T> {
  const [text, type, forget] = useTyped(name)
  const kept = useMemo(() => keptFields(text), [text])
  const form = useMemo(() => fitting(blank, kept), [blank, kept])
  const set = useCallback((patch: Partial<T>) => type(JSON.stringify({ ...kept, ...patch })), [kept, type])
  const clear = useCallback(
    (next?: Partial<T>) => (next === undefined ? forget() : type(JSON.stringify(next))),
    [forget, type],
  )
  return { form, set, clear, isTyped: text !== '' }
}
