// How good a proposal is, in words: what better could exist at most, and what its worth is made of.
import type { Part, Parts } from '#lib/lineup'

/** A part of the worth in words, and its share of the whole in hundredths; below nothing where it costs. */
export type WorthRow = { readonly part: Part; readonly word: string; readonly percent: number }

/** "Nothing better exists." or how much better at most; while it is drawn up, that it is looked for. */
export function sayBound(
  { isProven, gapPct }: { readonly isProven: boolean; readonly gapPct: number | null },
  isAsking: boolean,
): string {
  if (isProven) return 'Nothing better exists.'
  if (gapPct === null) return isAsking ? 'Looking for better ones.' : 'Whether a better one exists is not known.'
  const most =
    gapPct === 0
      ? 'Nothing better exists that keeps as many holds and claims.'
      : `At most ${atMost(gapPct)} % better exists.`
  return isAsking ? `${most} Still looking.` : most
}

/** Upwards, so that it stays true: 1.21 is 1.3; two figures are enough above ten. */
const atMost = (percent: number): number =>
  percent >= 10 ? Math.ceil(percent) : Math.ceil(Number((percent * 10).toFixed(6))) / 10

const WORDS: Readonly<Record<Part, string>> = {
  urgency: 'Dates that press',
  useful: 'Useful work for everybody',
  gentleness: 'The gentlest technique that works',
  sameHands: 'The same hands on a piece',
  learning: 'Learning',
  loves: 'What people love to do',
  fairness: 'Good and dull pieces shared out',
  notLast: 'Joining, housing and records not left to the end',
  fewMoves: 'Carrying pieces about',
}

/** The parts that count in this proposal, largest first; what carrying costs comes last. */
export function worthRows(parts: Parts, score: number): readonly WorthRow[] {
  const whole = Math.max(1, score)
  return (Object.keys(WORDS) as Part[])
    .map((part) => ({ part, word: WORDS[part], percent: Math.round((100 * parts[part]) / whole) }))
    .filter(({ part }) => parts[part] !== 0)
    .sort((a, b) => parts[b.part] - parts[a.part])
}
