// Small parts that several acts share: finding what an id names, patching a record, what somebody's own piece is.
import { assert } from '#lib/base'
import { isFinished, turnId } from '#lib/rules'
import { type Assignment, type Finding, finding, type Records, type Work } from '#lib/words'
import type { Need, Who } from './op.ts'

/** Farthest day ahead that may be planned, claimed or posted. */
export const DAYS_AHEAD_MAX = 120

/** What judge has already seen to be there. */
export function must<T>(value: T | undefined | null, believed: string): T {
  assert(value !== undefined && value !== null, believed)
  return value
}

/** The op names something that is not on the board. */
export function unknown(what: string, id: string): Finding {
  return finding('O', `unknown-${what}`, { [what]: id })
}

/** A finding when the fact does not hold; nothing otherwise. For lists of conditions. */
export function unless(fact: unknown, ...args: Parameters<typeof finding>): readonly Finding[] {
  return fact ? [] : [finding(...args)]
}

/** The record with the patch's fields in place; a field given as undefined stays as it was. */
export function patched<T extends object>(record: T, patch: { readonly [K in keyof T]?: T[K] | undefined }): T {
  const given = Object.fromEntries(Object.entries(patch).filter(([, value]) => value !== undefined))
  return { ...record, ...given }
}

/** The patch that takes `patch` back: the record's own values of the same fields. */
export function formerOf<T extends object, P extends object>(record: T, patch: P): P {
  // Every key of a patch is a key of its record (its schema is the record's, in part), so the values have its types.
  return Object.fromEntries(Object.keys(patch).map((key) => [key, Reflect.get(record, key)])) as P
}

/** Same letters whatever their case: `M1` and `m1` are one code to people. */
export function isSameName(a: string, b: string): boolean {
  return a.trim().toLocaleLowerCase('en') === b.trim().toLocaleLowerCase('en')
}

/** True for managers and preparators, and for the server itself. */
export function isStaff(who: Who): boolean {
  return who.role === 'manager' || who.role === 'preparator' || who.role === 'system'
}

/** Assignments from a date on whose work is not finished. */
export function openFrom(records: Records, today: string): readonly Readonly<Assignment>[] {
  const found: Readonly<Assignment>[] = []
  for (const one of records.assignment.values()) {
    if (one.date >= today && !isFinished(records, one.id)) found.push(one)
  }
  return found
}

/** Work that is running or paused. */
export function begunWork(records: Records): readonly Readonly<Work>[] {
  return [...records.work.values()].filter((work) => work.state !== 'finished')
}

/** True when the person is assigned to the piece today or has worked on it today. */
export function isTheirsToday(records: Records, personId: string, pieceId: string, today: string): boolean {
  const isTheirs = (one: Readonly<Assignment> | Readonly<Work>) =>
    one.personId === personId && one.pieceId === pieceId && one.date === today
  for (const one of records.assignment.values()) if (isTheirs(one)) return true
  for (const one of records.work.values()) if (isTheirs(one)) return true
  return false
}

/** Work that is under way on one of these turns. */
export function inUseNow(records: Records, turnIds: ReadonlySet<string>): Readonly<Work> | null {
  return begunWork(records).find((one) => turnIds.has(turnId(one.date, one.shiftId, one.personId))) ?? null
}

/** What stands against anybody using a piece up: somebody works on it, or is to from `today` on. */
export function inUse(records: Records, pieceId: string, today: string): readonly Finding[] {
  const work = begunWork(records).find((one) => one.pieceId === pieceId)
  if (work) return [finding('O', 'piece-in-use', { piece: pieceId, person: work.personId, date: work.date })]
  const turn = openFrom(records, today).find((one) => one.pieceId === pieceId)
  return turn
    ? [finding('O', 'piece-in-use', { piece: pieceId, person: turn.personId, date: turn.date, assignment: turn.id })]
    : []
}

/** The sheet of a piece, whole. */
export const sheetOf = (pieceId: string): readonly Need[] => [{ home: `sheet/${pieceId}` }]

/** The sheet of a piece, to see that nothing on it is overwritten. */
export function sheetForGate(pieceId: string): readonly Need[] {
  return [{ home: `sheet/${pieceId}`, gateOnly: true }]
}
