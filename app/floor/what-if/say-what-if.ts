// What would become of the day, in one sentence: "Ines to A2: Piet moves to M1, MC20-051 waits; 2 % worse for the day."
import type { Considered } from '#lib/lineup'
import type { Turn } from '#lib/views'
import type { Records } from '#lib/words'
import { sayFindings } from '../../_text/index.ts'
import { numberOf } from '../number-of.ts'
import { few, names, plural } from '../words.ts'

/** A turn that one would like to see. */
export type Wanted = Pick<Turn, 'shiftId' | 'personId' | 'pieceId' | 'stepId' | 'placeId'>

/** Changes said one by one; the rest is counted. */
const MOST_SAID = 3

/** Who would go where: "Ines to A2", "MC20-051 with Ines and Piet to A2". */
export function sayWish(records: Records, wanted: readonly Wanted[]): string {
  const [first] = wanted
  if (!first) return ''
  const code = records.place.get(first.placeId)?.code ?? ''
  const who = wanted.map((turn) => nameOf(records, turn.personId))
  return wanted.length === 1
    ? `${who[0]} to ${code}`
    : `${numberOf(records, first.pieceId)} with ${names(who)} to ${code}`
}

/** Everything that would follow, one phrase each, the wanted turns left out. */
export function sayEffects(records: Records, wanted: readonly Wanted[], answer: Considered): readonly string[] {
  const shiftId = wanted[0]?.shiftId
  const isWanted = (change: Considered['changes'][number]) =>
    wanted.some((turn) => turn.personId === change.personId && turn.shiftId === change.shiftId)
  return [
    ...answer.changes.filter((change) => !isWanted(change)).map((change) => sayChange(records, change, shiftId)),
    ...answer.waits.map((pieceId) => `${numberOf(records, pieceId)} waits`),
  ]
}

/** The cost: "2 % worse for the day". */
export function sayLoss(lossPerMille: number): string {
  if (lossPerMille === 0) return 'no worse for the day'
  const percent = Math.abs(lossPerMille) / 10
  // The figure and its sign stay on one line.
  const words = percent < 1 ? 'less than 1\u00a0%' : `${Math.round(percent)}\u00a0%`
  return `${words} ${lossPerMille > 0 ? 'worse' : 'better'} for the day`
}

/** The whole sentence, or why it cannot be. */
export function sayWhatIf(records: Records, wanted: readonly Wanted[], answer: Considered): string {
  const wish = sayWish(records, wanted)
  if (!answer.isPossible) return `${wish} cannot be. ${sayFindings(answer.findings.slice(0, 1), records)}`
  const effects = sayEffects(records, wanted, answer)
  const more = effects.length - MOST_SAID
  const said =
    more > 1 ? [...effects.slice(0, MOST_SAID), `${few(more)} more ${plural(more, 'change', 'changes')}`] : effects
  return `${wish}: ${said.length === 0 ? 'nobody else moves' : said.join(', ')}; ${sayLoss(answer.lossPerMille)}.`
}

function sayChange(records: Records, change: Considered['changes'][number], shiftId: string | undefined): string {
  const { before, after } = change
  const who = nameOf(records, change.personId)
  const shift = records.lab
    .get('lab')
    ?.shifts.find(({ id }) => id === change.shiftId)
    ?.name.toLowerCase()
  const when = change.shiftId === shiftId || shift === undefined ? '' : ` in the ${shift}`
  if (!after) return `${who} has no seat${when}`
  const code = records.place.get(after.placeId)?.code ?? ''
  const piece = numberOf(records, after.pieceId)
  if (!before) return `${who} takes ${piece} at ${code}${when}`
  const isOther = before.pieceId !== after.pieceId
  if (before.placeId !== after.placeId) return `${who} moves to ${code}${isOther ? `, on ${piece}` : ''}${when}`
  return isOther ? `${who} turns to ${piece}${when}` : `${who} does another step of ${piece}${when}`
}

const nameOf = (records: Records, personId: string): string => records.person.get(personId)?.name ?? 'Somebody'
