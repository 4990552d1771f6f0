// Batches, strengths and what a material is allowed for, in words.
import type { Jar, Material, Strength } from '#lib/words'
import { sayList } from './amounts.ts'

/** What a strength counts, as it stands behind the figure. */
export const conventions: Readonly<Record<Strength['convention'], string>> = {
  wv: '% w/v of finished solution',
  ww: '% w/w',
  per100ml: 'g in 100 ml of solvent',
}

/** 5 % w/v of finished solution. */
export const sayStrength = ({ amount, convention }: Strength): string => `${amount} ${conventions[convention]}`

/** As a label has it: B 12. */
export const numberBatch = (number: number): string => `B\u00a0${number}`

/** Acrylic resin in acetone; just the resin where nothing is named that it is in. */
export const sayContents = ({ material, solvent }: Pick<Jar, 'material' | 'solvent'>): string =>
  solvent === '' ? material : `${material} in ${solvent.toLowerCase()}`

/** Acrylic resin in acetone, 5 % w/v of finished solution, batch B 12, lot 44-1. */
export function sayJar({ number, material, solvent, strength, lot }: Jar): string {
  const parts = [
    sayContents({ material, solvent }),
    strength === null ? '' : sayStrength(strength),
    `batch ${numberBatch(number)}`,
    lot === '' ? '' : `lot ${lot}`,
  ]
  return parts.filter((one) => one !== '').join(', ')
}

const allowances: Readonly<Record<Material['allowedFor'][number], string>> = {
  contact: 'on the piece for good',
  enclosure: 'in one box with it',
  temporary: 'on it for a while',
}

/** What each allowance is, for a tick. */
export const sayAllowance = (one: Material['allowedFor'][number]): string => allowances[one]

/** Allowed on the piece for good and in one box with it; not on the list. */
export function sayAllowed({ allowedFor, what }: Pick<Material, 'allowedFor' | 'what'>): string {
  if (what === 'solvent' || what === 'acid') return 'does not stay'
  return allowedFor.length === 0
    ? 'not on the list of what is allowed'
    : `allowed ${sayList(allowedFor.map(sayAllowance))}`
}
