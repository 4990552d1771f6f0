// A straight scale from amounts to px, and which labels have room on it.

/** A stretch of days, hours or litres drawn over a stretch of px. */
export type Scale = {
  readonly from: number
  readonly to: number
  readonly left: number
  readonly right: number
}

/** The px of an amount; amounts beyond the ends are drawn at the ends. */
export function along(scale: Scale, amount: number): number {
  const share = scale.to === scale.from ? 0 : (amount - scale.from) / (scale.to - scale.from)
  return scale.left + Math.min(1, Math.max(0, share)) * (scale.right - scale.left)
}

/** About how wide words are in the plain face at a size, on the generous side: enough to decide whether they fit. */
export function wordWidth(words: string, size: number): number {
  let ems = 0
  for (const letter of words) ems += emsOf(letter)
  return ems * size
}

/** Measured on the cut of Commissioner at weight 680, rounded up by class of letter. */
function emsOf(letter: string): number {
  if ("iljtfrI1.,:;'’|·! ".includes(letter)) return 0.34
  if ('mwMW—%'.includes(letter)) return 0.9
  if (letter >= 'A' && letter <= 'Z') return 0.69
  return 0.58
}
