// Differences between two texts as one splice: what a keystroke, a paste or an autocorrection did to a field. Found by
// common beginning and end, led by the caret where repeated letters leave a choice, never through the middle of a
// surrogate pair.

/** At `at`, `remove` code units give way to `insert`. */
export type Splice = { readonly at: number; readonly remove: number; readonly insert: string }

/** A step of a Yjs text delta. */
export type DeltaStep = { readonly retain?: number; readonly insert?: unknown; readonly delete?: number }

const isHigh = (code: number) => code >= 0xd800 && code <= 0xdbff
const isLow = (code: number) => code >= 0xdc00 && code <= 0xdfff

/** The splice that turns `before` into `after`; null when they are the same. `caret` is where typing left it in `after`. */
export function spliceOf(before: string, after: string, caret = after.length): Splice | null {
  if (before === after) return null
  // What lies behind the caret was there before: typing never changes what follows it.
  const tailMax = Math.min(before.length, after.length)
  let tail = 0
  const tailWanted = Math.min(tailMax, after.length - caret)
  while (
    tail < tailWanted &&
    before.charCodeAt(before.length - 1 - tail) === after.charCodeAt(after.length - 1 - tail)
  ) {
    tail++
  }
  const headMax = tailMax - tail
  let head = 0
  while (head < headMax && before.charCodeAt(head) === after.charCodeAt(head)) head++
  // Without a caret to go by (a drop, an undo) the end may be shared farther than assumed.
  while (
    tail < tailMax - head &&
    before.charCodeAt(before.length - 1 - tail) === after.charCodeAt(after.length - 1 - tail)
  ) {
    tail++
  }
  if (
    head > 0 &&
    isHigh(before.charCodeAt(head - 1)) &&
    (isLow(before.charCodeAt(head)) || isLow(after.charCodeAt(head)))
  ) {
    head--
  }
  if (tail > 0 && isLow(before.charCodeAt(before.length - tail))) {
    const left = before.charCodeAt(before.length - tail - 1)
    const right = after.charCodeAt(after.length - tail - 1)
    if (isHigh(left) || isHigh(right)) tail--
  }
  return { at: head, remove: before.length - tail - head, insert: after.slice(head, after.length - tail) }
}

/** The text with the splice done. */
export function spliced(text: string, { at, remove, insert }: Splice): string {
  return text.slice(0, at) + insert + text.slice(at + remove)
}

/** Where a position lies after a delta; text put in exactly there goes before it when `isAfter`. */
export function movedBy(position: number, delta: readonly DeltaStep[], isAfter = false): number {
  let at = 0
  let moved = position
  for (const step of delta) {
    if (step.retain !== undefined) at += step.retain
    else if (typeof step.insert === 'string') {
      if (at < moved || (isAfter && at === moved)) moved += step.insert.length
      at += step.insert.length
    } else if (step.delete !== undefined && at < moved) moved = Math.max(at, moved - step.delete)
    if (at > moved) break
  }
  return moved
}

/**
 * Brings an edit over to a text that has changed meanwhile: `before` became `mine` here and `theirs` there. What was
 * put in here is always kept; what was taken out here is taken out only where the other text still has it.
 */
export function rebased(before: string, mine: string, theirs: string): Splice | null {
  const own = spliceOf(before, mine)
  if (!own || theirs === mine) return null
  const other = spliceOf(before, theirs)
  if (!other) return own
  if (other.at === own.at && other.remove === own.remove && own.insert.startsWith(other.insert)) {
    // The other text is our own, half way: only the rest is missing.
    return { at: own.at + other.insert.length, remove: 0, insert: own.insert.slice(other.insert.length) }
  }
  if (own.at + own.remove <= other.at) return own
  const shift = other.insert.length - other.remove
  if (own.at >= other.at + other.remove) return { ...own, at: own.at + shift }
  return { at: other.at + other.insert.length, remove: 0, insert: own.insert }
}
