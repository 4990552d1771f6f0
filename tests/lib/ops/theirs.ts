// What a volunteer or a researcher may change in a single record, said plainly by hand, for the random histories.
import type { Who } from '#lib/ops'
import type { AnyRecord, Change, Records } from '#lib/words'

/** Whether a volunteer or researcher may change this very record, in these very fields. */
export function isTheirsToChange(before: Records, change: Change, who: Who, today: string): boolean {
  const old = before[change.kind].get(change.id) as AnyRecord | undefined
  const now = change.record ?? old
  if (!now) return false
  const differs = (allowed: readonly string[]) =>
    old !== undefined &&
    change.record !== null &&
    Object.keys(now).every(
      (key) => allowed.includes(key) || JSON.stringify(Reflect.get(now, key)) === JSON.stringify(Reflect.get(old, key)),
    )
  const isTheirsToday = (pieceId: string) =>
    [...before.assignment.values(), ...before.work.values()].some(
      (one) => one.personId === who.personId && one.pieceId === pieceId && one.date === today,
    )
  const wasTheirs = (pieceId: string) =>
    [...before.assignment.values(), ...before.work.values()].some(
      (one) => one.personId === who.personId && one.pieceId === pieceId && one.date <= today,
    )
  switch (change.kind) {
    case 'person': {
      const allowed =
        who.role === 'researcher' ? ['loves', 'crafts'] : ['loves', 'crafts', 'pattern', 'exceptions', 'spells']
      return change.id === who.personId && differs(allowed)
    }
    case 'contact':
    case 'ack':
      return change.id === who.personId
    case 'swap': {
      const isOwn = Reflect.get(now, 'personId') === who.personId
      const isTaken = differs(['taken']) && Reflect.get(old ?? {}, 'taken') === null
      return isOwn || (isTaken && (now as { taken?: { by: string } }).taken?.by === who.personId)
    }
    case 'attendance':
    case 'signOffAsk':
    case 'watch':
    case 'work':
    case 'log':
    case 'tally':
    case 'exposureMonth':
      return (
        'personId' in now && now.personId === who.personId && (!old || Reflect.get(old, 'personId') === who.personId)
      )
    case 'assignment':
    case 'reseat': {
      const owner = Reflect.get(now, 'personId')
      // Whoever offers a turn lets another hand take it, and give one for it.
      const isOffering = [...before.swap.values()].some((one) => one.taken === null && one.personId === owner)
      return owner === who.personId || isOffering
    }
    case 'clock':
      return 'pieceId' in now && now.pieceId !== null && isTheirsToday(now.pieceId)
    case 'batch':
      return old ? differs(['ended']) : 'by' in now && now.by === who.personId
    case 'check':
      return differs(['last'])
    case 'checkDone':
    case 'incident':
      return !old && 'by' in now && now.by === who.personId
    case 'entry':
    case 'fragment':
    case 'pairTry':
    case 'join':
    case 'stroke':
      return (
        'by' in now && now.by === who.personId && 'pieceId' in now && now.pieceId !== null && isTheirsToday(now.pieceId)
      )
    case 'photo':
      return 'by' in now && now.by === who.personId && 'pieceId' in now && wasTheirs(String(now.pieceId))
    case 'jacket':
    case 'specimen':
      return differs(['shelf', 'placeId', 'standsDespite', 'sampling'])
    case 'step':
      return differs(['state', 'by', 'doneMinutes', 'begunCm2'])
    case 'question':
      return old ? differs(['answer']) && Reflect.get(old, 'answer') === null : Reflect.get(now, 'by') === who.personId
    case 'due':
      return !old && Reflect.get(now, 'state') === 'asked' && Reflect.get(now, 'by') === who.personId
    default:
      return false
  }
}
