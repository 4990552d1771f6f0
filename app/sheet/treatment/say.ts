// How the particulars of an entry are read: one line, in the order in which one asks for them.
import type { Treatment } from '#lib/words'
import { sayJar, sayList, sayStrength } from '../../_text/index.ts'

/** Whether the technique moved the rock. */
export const sayMoved = (moved: boolean): string => (moved ? 'It moved the rock.' : 'It did not move the rock.')

/** The particulars: Paraloid in acetone, batch B12, 5 % w/v of finished solution; at the left rim. */
export function sayDetail(detail: Treatment, name: (personId: string) => string): string {
  const { tool, setting, area, material, batch, strength, movedRock, agreed, jar } = detail
  const parts = [
    tool === undefined ? '' : tool,
    setting === undefined ? '' : `set to ${setting}`,
    jar === undefined ? '' : sayJar(jar),
    material === undefined ? '' : material,
    batch === undefined ? '' : `batch ${batch}`,
    strength === undefined ? '' : sayStrength(strength),
    area === undefined ? '' : `at ${area}`,
    agreed === undefined ? '' : `agreed by ${sayList(agreed.map(name))}`,
  ].filter((one) => one !== '')
  const line = parts.length === 0 ? '' : `${parts.join(', ')}.`
  return [line, movedRock === undefined ? '' : sayMoved(movedRock), sayDespite(detail)]
    .filter((one) => one !== '')
    .join(' ')
}

/** What was put on in a stretch of work, and why all the same; empty where nothing was said. */
export function sayPutOn({ jar, despite }: Pick<Treatment, 'jar' | 'despite'>): string {
  return [jar === undefined ? '' : `${sayJar(jar)}.`, sayDespite({ despite })].filter((one) => one !== '').join(' ')
}

const sayDespite = ({ despite }: Pick<Treatment, 'despite'>): string =>
  despite === undefined ? '' : `Asked about, and done all the same: ${despite}.`
