/**
 * Reading published text files line by line. Whatever is wrong ends as one fault with the line and what was expected,
 * never as an exception of the caller, and sizes have a bound so that a hostile file cannot fill the memory.
 */
import { type Followers, inOrder, toFollowers } from './project.ts'

/** What is wrong with a file: line (from 1; 0 for the file as a whole) and words. */
interface Fault {
  readonly line: number
  readonly message: string
}

export type Parsed<T> = { readonly isGood: true; readonly value: T } | { readonly isGood: false; readonly fault: Fault }

/** Most of each that is read; far above the largest published file. */
export const SIZES = { bytes: 20_000_000, activities: 5000, resources: 400, modes: 50_000, horizon: 2_000_000 } as const

class FaultError extends Error {
  readonly fault: Fault
  constructor(fault: Fault) {
    super(fault.message)
    this.fault = fault
  }
}

/** Ends the reading with a message. */
export function wrong(line: number, message: string): never {
  throw new FaultError({ line, message })
}

/** Runs a reader over a text and turns its fault into a value. */
export function parsed<T>(text: string, reader: (text: string) => T): Parsed<T> {
  try {
    if (text.length > SIZES.bytes) wrong(0, `expected at most ${SIZES.bytes} letters, got ${text.length}`)
    return { isGood: true, value: reader(text) }
  } catch (error) {
    if (error instanceof FaultError) return { isGood: false, fault: error.fault }
    throw error
  }
}

/** A whole number of 0 or more out of a word, not above `most`. */
export function toCount(word: string | undefined, line: number, what: string, most = 1_000_000): number {
  if (word === undefined || !/^\d{1,9}$/.test(word)) {
    return wrong(line, `expected ${what}, a whole number, got ${quoted(word)}`)
  }
  const value = Number(word)
  return value <= most ? value : wrong(line, `expected ${what} of at most ${most}, got ${value}`)
}

/** A number from 1 to `count` out of a word, as a number from 0. */
export function toIndex(word: string | undefined, line: number, what: string, count: number): number {
  const value = toCount(word, line, what)
  return value >= 1 && value <= count ? value - 1 : wrong(line, `expected ${what} from 1 to ${count}, got ${value}`)
}

/** The words of a line. */
export function wordsOf(line: string): readonly string[] {
  return line.split(/\s+/).filter((word) => word !== '')
}

export function quoted(word: string | undefined): string {
  return word === undefined ? 'nothing' : JSON.stringify(word.slice(0, 40))
}

/** Followers out of arcs, refused when they go in a circle. */
export function toNetwork(count: number, arcs: readonly (readonly [number, number])[], line: number): Followers {
  const followers = toFollowers(count, arcs)
  if (inOrder(followers) === null) wrong(line, 'expected an order of activities, got some that wait for themselves')
  return followers
}

/** Refuses durations whose sum is longer than a schedule may be. */
export function checkHorizon(durations: Iterable<number>, line: number): void {
  let sum = 0
  for (const value of durations) sum += value
  if (sum > SIZES.horizon) wrong(line, `expected durations of at most ${SIZES.horizon} in all, got ${sum}`)
}
