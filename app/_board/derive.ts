'use client'
// Values computed from the board that are kept as long as they stand. An edit changes one or two tables; what does not
// read them is not computed again, and what is computed again keeps its old parts where they say the same.
import { useRef } from 'react'
import { share } from '#lib/base'
import type { Kind, Records } from '#lib/words'
import { computeOn, type Reads, stillReads } from './core/reads.ts'

/**
 * What `compute` makes of the records, computed anew when a table it reads or one of `deps` is another. It must read
 * the records while it runs and not hand them on; what it gives must be plain values.
 */
export function useDerived<T>(records: Records, compute: (records: Records) => T, deps: readonly unknown[]): T {
  const held = useRef<{ deps: readonly unknown[]; reads: Reads; value: T } | null>(null)
  const last = held.current
  const isSame =
    last !== null &&
    last.deps.length === deps.length &&
    deps.every((dep, index) => Object.is(dep, last.deps[index])) &&
    stillReads(last.reads, records)
  if (isSame) return last.value
  const { value, reads } = computeOn(records, compute)
  const kept = last === null ? value : share(last.value, value)
  held.current = { deps, reads, value: kept }
  return kept
}

/**
 * For `memo`: a part that reads only these kinds of records paints again when one of them, or anything else it is
 * given, is another. The records come as `records`, or within `at` beside where one looks.
 */
export function paintsFor(...kinds: readonly Kind[]): (before: object, after: object) => boolean {
  const isSameFor = (before: object, after: object): boolean => {
    const [old, now] = [Object.entries(before), new Map<string, unknown>(Object.entries(after))]
    return old.length === now.size && old.every(([name, value]) => isSameProp(name, value, now.get(name)))
  }
  const isSameProp = (name: string, before: unknown, after: unknown): boolean => {
    if (Object.is(before, after)) return true
    if (typeof before !== 'object' || typeof after !== 'object' || before === null || after === null) return false
    if (name === 'at') return isSameFor(before, after)
    // By its name and type throughout app: the board's records.
    return name === 'records' && kinds.every((kind) => (before as Records)[kind] === (after as Records)[kind])
  }
  return isSameFor
}
