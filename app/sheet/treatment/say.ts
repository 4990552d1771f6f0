// How the particulars of an entry are read: one line, in the order in which one asks for them.
import type { Treatment } from '#lib/words'
import { sayList, sayMinutes } from '../../_text/index.ts'

/** What a strength counts, as it stands behind the figure. */
export const conventions: Readonly<Record<NonNullable<Treatment['strength']>['convention'], string>> = {
  wv: '% w/v of finished solution',
  ww: '% w/w',
  per100ml: 'g in 100 ml of solvent',
}

/** Whether the technique moved the rock. */
export const sayMoved = (moved: boolean): string => (moved ? 'It moved the rock.' : 'It did not move the rock.')

/** The particulars: Paraloid in acetone, batch B12, 5 % w/v of finished solution; at the left rim. */
export function sayDetail(detail: Treatment, name: (personId: string) => string): string {
  const { tool, setting, area, runningMinutes, material, batch, strength, movedRock, agreed } = detail
  const parts = [
    tool === undefined ? '' : tool,
    setting === undefined ? '' : `set to ${setting}`,
    material === undefined ? '' : material,
    batch === undefined ? '' : `batch ${batch}`,
    strength === undefined ? '' : `${strength.amount} ${conventions[strength.convention]}`,
    area === undefined ? '' : `at ${area}`,
    runningMinutes === undefined ? '' : `tool in hand ${sayMinutes(runningMinutes)}`,
    agreed === undefined ? '' : `agreed by ${sayList(agreed.map(name))}`,
  ].filter((one) => one !== '')
  const line = parts.length === 0 ? '' : `${parts.join(', ')}.`
  return [line, movedRock === undefined ? '' : sayMoved(movedRock)].filter((one) => one !== '').join(' ')
}
