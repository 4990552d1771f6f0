// Sortable identifiers, made where the edit is made (browser, server, demo): 48 bits of time, then 80 of chance,
// in Crockford's base 32 (no i, l, o, u), so that they sort by time as plain text and survive being read aloud.

const LETTERS = '0123456789abcdefghjkmnpqrstvwxyz'

/**
 * A new identifier of 26 letters.
 * @param nowMs milliseconds since 1970 (sorts first)
 * @param chance gives whole numbers from 0 to 31; use a cryptographic source where ids must not be guessed
 */
export function makeId(nowMs: number, chance: () => number): string {
  let time = Math.max(0, Math.floor(nowMs))
  let head = ''
  for (let i = 0; i < 10; i++) {
    head = LETTERS.charAt(time % 32) + head
    time = Math.floor(time / 32)
  }
  let tail = ''
  for (let i = 0; i < 16; i++) tail += LETTERS.charAt(chance() & 31)
  return head + tail
}

/** The time in milliseconds that an identifier of `makeId` carries. */
export function timeOfId(id: string): number {
  let time = 0
  for (const letter of id.slice(0, 10)) time = time * 32 + LETTERS.indexOf(letter)
  return time
}
