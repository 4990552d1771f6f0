/**
 * Seeded chance. Everything in lib that needs a dice takes one of these, so that the same seed gives the same
 * answer in the browser, on the server and in a test. The generator is sfc32: 128 bits of state, 32-bit integer
 * steps only, so every machine draws the same numbers.
 */

/** A stream of numbers that depends on its seed alone. */
export interface Random {
  /** A whole number from 0 to 2^32 - 1. */
  readonly word: () => number
  /** A whole number from 0 to `count` - 1; `count` is at least 1. */
  readonly below: (count: number) => number
  /** A number from 0 (included) to 1 (not included). */
  readonly unit: () => number
}

/** Starts a stream; any whole number is a seed, also negative or above 2^32. */
export function seededRandom(seed: number): Random {
  let a = seed | 0
  let b = Math.floor(seed / 4294967296) | 0
  let c = 0x9e3779b9 | 0
  let counter = 1
  const word = (): number => {
    const t = (((a + b) | 0) + counter) | 0
    counter = (counter + 1) | 0
    a = b ^ (b >>> 9)
    b = (c + (c << 3)) | 0
    c = (c << 21) | (c >>> 11)
    c = (c + t) | 0
    return t >>> 0
  }
  // Seeds that differ in one bit only start alike; sfc32's author asks for a dozen rounds before use.
  for (let round = 0; round < 15; round++) word()
  return {
    word,
    below: (count) => Math.floor((word() / 4294967296) * count),
    unit: () => word() / 4294967296,
  }
}
