// What was sampled in somebody's air, in words: each average with its limit, the formula, the text the limit is from, and what
// nobody has held against that text yet. Tested without a screen.
import type { AirDay, LimitInForce } from '#lib/views'
import { sayDate, sayList } from '../_text/index.ts'

/** A day: "12 March 2026: silica 25.0 µg/m³ over 8 h …". */
export function sayAirDay({ date, silica, solvents, mixture, withoutLimit }: AirDay): string {
  const parts = [
    silica === null
      ? ''
      : `silica ${silica.twaUgM3.toFixed(1)} µg/m³ over 8 h (Σ C·T / 8 h); limit ${silica.limit.amount} µg/m³, ${sayBasis(silica.limit)}${silica.aboveLimit ? ': above the limit' : silica.atOrAboveAction ? ': at or above the action level' : ''}.`,
    mixture === null
      ? ''
      : `Solvents ${solvents.map(({ agent, twaPpm, limit }) => `${agent} ${twaPpm.toFixed(1)}/${limit.amount} ppm`).join(' + ')} = ${mixture.ratio.toFixed(3)}${mixture.within ? '' : ': above 1'} (Σ C/L). Limits: ${sayList(solvents.map(({ agent, limit }) => `${agent}, ${sayBasis(limit)}`))}.`,
    withoutLimit.length === 0
      ? ''
      : `No limit for ${sayList(withoutLimit)} is in the table of this jurisdiction: ask the safety officer, and enter it under Lab settings, Limits in air.`,
  ]
  return `${sayDate(date, 'full')}: ${parts.filter(Boolean).join(' ')}`
}

/** Where a limit is from, and that it wants a look at its text. */
export function sayBasis({ title, date, isOwn, isRead }: LimitInForce): string {
  const from = date === '' ? '' : ` (${sayDate(date, 'full')})`
  return `${title}${from}${isOwn ? ', the lab’s own' : ''}${isRead ? '' : ', to be held against its text'}`
}
