// Amounts with their units, as short as a bench needs them.

/** Minutes as hours and minutes: 50 min, 1 h 50, 3 h. */
export function sayMinutes(minutes: number): string {
  const whole = Math.max(0, Math.round(minutes))
  if (whole < 60) return `${whole} min`
  const rest = whole % 60
  return rest === 0 ? `${Math.floor(whole / 60)} h` : `${Math.floor(whole / 60)} h ${rest}`
}

/** Hours of work, rounded as far as anybody knows them: ½ h is 30 min, 3 h, 14 h, 120 h. */
export function sayHours(hours: number): string {
  if (hours < 1) return sayMinutes(hours * 60)
  if (hours < 10) return `${trim(Math.round(hours * 2) / 2)} h`
  return `${Math.round(hours)} h`
}

/** A span of hours: 12 to 40 h. */
export function sayHoursSpan(lowH: number, highH: number): string {
  const low = sayHours(lowH)
  const high = sayHours(highH)
  if (low === high) return low
  return low.endsWith(' h') && high.endsWith(' h') ? `${low.slice(0, -2)} to ${high}` : `${low} to ${high}`
}

/** A factor on hours as one says it: half as long again, a fifth less. */
export function sayFactor(factor: number): string {
  const more = factor >= 1
  const size = more ? factor : 1 / factor
  if (size >= 2.5) return more ? `${Math.round(size)} times as long` : 'less than half as long'
  if (size >= 1.75) return more ? 'twice as long' : 'half as long'
  if (size >= 1.42) return more ? 'half as long again' : 'a third less'
  if (size >= 1.28) return more ? 'a third longer' : 'a quarter less'
  if (size >= 1.15) return more ? 'a fifth longer' : 'a sixth less'
  return more ? 'a little longer' : 'a little less'
}

/** Kilograms: 0.4 kg, 12 kg, 1 400 kg. */
export function sayKg(kg: number): string {
  return `${kg < 10 ? trim(Math.round(kg * 10) / 10) : grouped(Math.round(kg))} kg`
}

/** A mass with its basis: the weighing if there is one, else the estimate. */
export function sayMass(mass: {
  readonly lowKg: number
  readonly highKg: number
  readonly weighedKg: number | null
}): string {
  if (mass.weighedKg !== null) return `${sayKg(mass.weighedKg)} weighed`
  if (mass.lowKg === mass.highKg) return `about ${sayKg(mass.highKg)}`
  return `${sayKg(mass.lowKg).slice(0, -3)} to ${sayKg(mass.highKg)}, estimated`
}

/** Metres: 3.2 m, below one metre 45 cm. */
export function sayMetres(metres: number): string {
  return metres < 1 ? `${Math.round(metres * 100)} cm` : `${trim(Math.round(metres * 100) / 100)} m`
}

/** Air: 40 L/min. */
export const sayAir = (lpm: number): string => `${grouped(Math.round(lpm))} L/min`

/** Vibration points of a day against the lab's limit. */
export const sayPoints = (points: number, limit: number): string =>
  `${Math.round(points)} of ${Math.round(limit)} points`

/** Noise over the day: 78 dB(A). */
export const sayNoise = (dba: number): string => `${trim(Math.round(dba * 10) / 10)} dB(A)`

const SMALL = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
] as const

/** A count before its word: one seat, four seats, 13 seats, no seats. */
export function sayCount(count: number, one: string, many: string = `${one}s`): string {
  return `${SMALL[count] ?? grouped(count)} ${count === 1 ? one : many}`
}

/** Figures with thin gaps between thousands. */
export const grouped = (value: number): string => String(value).replace(/\B(?=(\d{3})+(?!\d))/g, '\u202f')

/** `text` with a capital first letter. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

/** Bea, Tobi and Odile. */
export function sayList(items: readonly string[], joiner = 'and'): string {
  const last = items.at(-1)
  if (last === undefined) return ''
  return items.length === 1 ? last : `${items.slice(0, -1).join(', ')} ${joiner} ${last}`
}

const trim = (value: number): string => grouped(Math.trunc(value)) + String(value).replace(/^-?\d+/, '')
