/** Sets as bit masks in Int32Array tables: bit `index & 31` of word `index >> 5`, from an offset on. */
import { at } from '#lib/base'

/** Words for a set of so many. */
export const wordsFor = (count: number): number => Math.max(1, (count + 31) >> 5)

/** Adds `index` to the set that begins at `offset`. */
export function addBit(masks: Int32Array, offset: number, index: number): void {
  const word = offset + (index >> 5)
  masks[word] = at(masks, word) | (1 << (index & 31))
}

/** Takes `index` out of the set that begins at `offset`. */
export function dropBit(masks: Int32Array, offset: number, index: number): void {
  const word = offset + (index >> 5)
  masks[word] = at(masks, word) & ~(1 << (index & 31))
}

/** Whether `index` is in the set that begins at `offset`. */
export const hasBit = (masks: Int32Array, offset: number, index: number): boolean =>
  (at(masks, offset + (index >> 5)) & (1 << (index & 31))) !== 0

/** Number of the lowest bit of a word that has one. */
export const lowestBit = (word: number): number => 31 - Math.clz32(word & -word)

/** The members of the set of `words` words that begins at `offset`, ascending. */
export function membersOf(masks: Int32Array, offset: number, words: number): number[] {
  const members: number[] = []
  for (let w = 0; w < words; w++) {
    for (let rest = at(masks, offset + w); rest !== 0; rest &= rest - 1) members.push(w * 32 + lowestBit(rest))
  }
  return members
}
