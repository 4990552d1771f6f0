// Why a pair is worth trying, and how far the tray has come, in words.
import { type advise, reasonsFor, type studyTray } from '#lib/joins'
import { sayCount, sayList } from '../../_text/index.ts'

type Study = ReturnType<typeof studyTray>
type Advice = ReturnType<typeof advise>

const mm = (value: number) => `${value} mm`

/** `both are 7.9 mm thick at the break, edges of 31 and 32 mm, a bow out meets a bow in`. */
export function sayReasons(study: Study, next: NonNullable<Advice['next']>): string {
  const said = reasonsFor(study, next).map(sayReason)
  return said.length === 0 ? 'nothing speaks for another pair more' : sayList(said)
}

function sayReason(reason: ReturnType<typeof reasonsFor>[number]): string {
  switch (reason.kind) {
    case 'thickness':
      return `they are ${reason.mm[0] === reason.mm[1] ? 'both' : `${reason.mm[0]} and`} ${mm(reason.mm[1])} thick`
    case 'length':
      return `their edges are ${reason.mm[0] === reason.mm[1] ? 'both' : `${reason.mm[0]} and`} ${mm(reason.mm[1])} long`
    case 'profile':
      return reason.profiles[0] === reason.profiles[1]
        ? `both edges are ${reason.profiles[0]}`
        : 'a bow out meets a bow in'
    case 'surface':
      return `both are ${reason.surface} outside`
    case 'texture':
      return 'their texture is alike'
    case 'shade':
      return 'their colour is alike'
  }
}

/** How likely it is that they fit: `about 6 in 10`, never more exact than the estimate is. */
export function sayChance(chance: number): string {
  if (chance < 0.01) return 'less than 1 in 100'
  return chance < 0.1 ? `about ${Math.round(chance * 100)} in 100` : `about ${Math.round(chance * 10)} in 10`
}

/** What was tried, what is settled without, what remains: the whole of the pairs. */
export function sayProgress({ pairs, isDone, triesLeft, chanceLeft }: Advice): string {
  const settled = pairs.inside + pairs.closed
  const tried = `Tried ${pairs.tried} of ${sayCount(pairs.all, 'pair')}`
  const saved = settled === 0 ? '' : `; ${settled} settled without trying, by the assemblies`
  if (pairs.untried === 0) return `${tried}${saved}. Nothing is left to try.`
  const left = `${sayCount(pairs.untried, 'pair')} untried`
  return isDone
    ? `${tried}${saved}. Done as far as can be told: ${left}, and by estimate a chance of ${sayChance(chanceLeft)} that a join is among them.`
    : `${tried}${saved}. ${left}; by estimate about ${triesLeft} more to try.`
}
