/**
 * What is free at one time, packed into machine words: each resource has a field of bits and a guard bit above it, so
 * that one subtraction and one mask tell whether all the resources of a word suffice. Four capacities below 128 fit into
 * one word, which makes the common project several times faster to schedule than with a loop over resources.
 */
import { add, at } from '#lib/base'

export interface Packed {
  readonly words: number
  /** By word: everything free, guard bits set. */
  readonly full: Int32Array
  /** By word: the guard bits. */
  readonly guard: Int32Array
  /** By item × words + word. */
  readonly need: Int32Array
}

/** Bits of a word that carry fields; the sign bit stays out. */
const WORD_BITS = 31

/**
 * Packs needs (by item × resources + resource) against capacities. An item that needs more than a capacity never fits,
 * so the caller leaves it out; here its need is cut to what the field holds.
 */
export function pack(capacity: Int32Array, use: Int32Array, items: number): Packed {
  const resources = capacity.length
  const word = new Int32Array(resources)
  const shift = new Int32Array(resources)
  const bits = Int32Array.from(capacity, (most) => 32 - Math.clz32(most))
  let words = 1
  let filled = 0
  for (let r = 0; r < resources; r++) {
    const width = at(bits, r) + 1
    if (filled + width > WORD_BITS) {
      words++
      filled = 0
    }
    word[r] = words - 1
    shift[r] = filled
    filled += width
  }
  const full = new Int32Array(words)
  const guard = new Int32Array(words)
  const need = new Int32Array(items * words)
  for (let r = 0; r < resources; r++) {
    const flag = 1 << (at(shift, r) + at(bits, r))
    add(guard, at(word, r), flag)
    add(full, at(word, r), flag + (at(capacity, r) << at(shift, r)))
    const most = 1 << at(bits, r)
    for (let item = 0; item < items; item++) {
      const wanted = Math.min(most, at(use, item * resources + r))
      add(need, item * words + at(word, r), wanted << at(shift, r))
    }
  }
  return { words, full, guard, need }
}
