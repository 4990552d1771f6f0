// What is written in a cell as a date or an amount; null where it could mean several things or nothing.

/** Whether the day or the month stands first. */
export type DateOrder = 'dmy' | 'mdy'

const parted = /^(\d{1,2})[./-](\d{1,2})[./-](\d{4})$/
const yearFirst = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ].*)?$/

/** The order that all dates of a column agree on; null when none tells, or when they contradict each other. */
export function orderOf(cells: readonly string[]): DateOrder | null {
  let isDayFirst = false
  let isMonthFirst = false
  for (const cell of cells) {
    const [, first, second] = parted.exec(cell.trim()) ?? []
    if (Number(first) > 12) isDayFirst = true
    if (Number(second) > 12) isMonthFirst = true
  }
  return isDayFirst === isMonthFirst ? null : isDayFirst ? 'dmy' : 'mdy'
}

/** Whether any date of the column needs an order to be read. */
export const needsOrder = (cells: readonly string[]): boolean => cells.some((cell) => parted.test(cell.trim()))

/** An ISO date; null for anything that is no day of the calendar. */
export function dateOf(cell: string, order: DateOrder): string | null {
  const [, year, month, day] = yearFirst.exec(cell.trim()) ?? []
  if (year !== undefined) return calendarDay(Number(year), Number(month), Number(day))
  const [, first, second, last] = parted.exec(cell.trim()) ?? []
  if (last === undefined) return null
  const [d, m] = order === 'dmy' ? [first, second] : [second, first]
  return calendarDay(Number(last), Number(m), Number(d))
}

function calendarDay(year: number, month: number, day: number): string | null {
  const at = new Date(Date.UTC(year, month - 1, day))
  if (year < 1600 || at.getUTCMonth() !== month - 1 || at.getUTCDate() !== day) return null
  return at.toISOString().slice(0, 10)
}

/** What an amount may be written in, and the most that it is likely to be where no unit is said. */
export type Units = { readonly factors: Readonly<Record<string, number>>; readonly bareMost: number }

/** Kilograms or metres by the unit beside the number or in the column's name; null when unclear. */
export function amountOf(cell: string, name: string, { factors, bareMost }: Units): number | null {
  const [, digits = '', beside = ''] = /^([\d.,\s\u00a0]+?)\s*([a-z]*)\.?$/i.exec(cell.trim()) ?? []
  const unit = beside || unitIn(name, factors)
  const factor = factorOf(unit, factors)
  const value = numberOf(digits.replace(/[\s\u00a0]/g, ''))
  if (factor === undefined || value === null) return null
  // A length of 60 without a unit is more likely centimetres than sixty metres of jacket.
  if (unit === '' && value > bareMost) return null
  return factor === 1 ? value : Math.round(value * factor * 1e6) / 1e6
}

/** `Length (cm)`, also `Length cm`, `length_cm`, `Length, cm`; empty where the name says none. */
function unitIn(name: string, factors: Units['factors']): string {
  const bracketed = /[([]([a-z]+)[)\]]/i.exec(name)?.[1]
  if (bracketed !== undefined) return bracketed
  const last = /[\s,_/]([a-z]+)\.?$/i.exec(name.trim())?.[1] ?? ''
  return factorOf(last, factors) === undefined ? '' : last
}

/** Undefined for what is no unit, the names that every object has among it. */
const factorOf = (unit: string, factors: Units['factors']): number | undefined =>
  Object.hasOwn(factors, unit.toLowerCase()) ? factors[unit.toLowerCase()] : undefined

/** `1,234` may be a thousand and more or one and a bit: nobody's guess. */
function numberOf(digits: string): number | null {
  if (/^\d+$/.test(digits)) return Number(digits)
  if (/^\d{1,3}(,\d{3})+\.\d+$/.test(digits)) return Number(digits.replaceAll(',', ''))
  if (/^\d{1,3}(\.\d{3})+,\d+$/.test(digits)) return Number(digits.replaceAll('.', '').replace(',', '.'))
  if (/^\d+\.\d+$/.test(digits)) return Number(digits)
  if (/^\d+,\d+$/.test(digits) && !/^[1-9]\d{0,2},\d{3}$/.test(digits)) return Number(digits.replace(',', '.'))
  return null
}
