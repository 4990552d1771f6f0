// What takes time and no hands: begun, moved, ended. Whoever draws up the day has somebody there as it ends; what would
// end with nobody in is refused with the nearest times at which somebody is, unless it is said why it may.
import { judgeTended, techniqueOf } from '#lib/rules'
import { type Clock, type Finding, finding, type LabTime, put, type Records, remove } from '#lib/words'
import { entryOf, judgeNewEntry } from './care.ts'
import { by, defineOp, type When, type Who } from './op.ts'
import { must, sheetForGate, unknown, unless } from './parts.ts'
import { judgeWriter } from './records.ts'
import { judgeDate } from './wishes.ts'

const isBefore = (a: LabTime, b: LabTime): boolean => `${a.date} ${a.time}` < `${b.date} ${b.time}`

/** What stands against an end: it is past, too far, before its beginning, or nobody is there. */
function judgeEnd(
  records: Records,
  { techniqueId, begun, ends, despite }: Pick<Clock, 'techniqueId' | 'begun' | 'ends' | 'despite'>,
  when: When,
): readonly Finding[] {
  const date = [...judgeDate(ends.date, when), ...unless(!isBefore(ends, begun), 'O', 'clock-backwards')]
  return date.length > 0 ? date : judgeTended(records, techniqueId, ends, despite)
}

export const startClock = defineOp<'startClock'>({
  kind: 'startClock',
  roles: by.crew,
  judge: (records, { clock }, who, when) => {
    const { id, pieceId, stepId, techniqueId, begun } = clock
    const step = stepId === null ? undefined : records.step.get(stepId)
    const findings = [
      ...judgeWriter(records, pieceId, who, when),
      ...unless(!records.clock.has(id), 'O', 'id-taken'),
      ...unless(stepId === null || step?.pieceId === pieceId, 'O', 'unknown-step', { step: stepId ?? '' }),
      ...unless(techniqueId === null || techniqueOf(records, techniqueId), 'O', 'unknown-technique', {
        technique: techniqueId ?? '',
      }),
      ...unless(begun.date <= when.date, 'O', 'not-yet', { date: begun.date }),
    ]
    return findings.length > 0 ? findings : judgeEnd(records, clock, when)
  },
  apply: (_records, { clock }, who, when) => [put('clock', { ...clock, by: who.personId, at: when.at })],
  inverse: (_records, { clock }, id) => ({ id, kind: 'dropClock', clockId: clock.id }),
})

/** The clock and whoever may write on its piece. */
function judgeRunning(records: Records, clockId: string, who: Who, when: When): readonly Finding[] {
  const clock = records.clock.get(clockId)
  return clock ? judgeWriter(records, clock.pieceId, who, when) : [unknown('clock', clockId)]
}

export const moveClock = defineOp<'moveClock'>({
  kind: 'moveClock',
  roles: by.crew,
  judge: (records, { clockId, ends, despite }, who, when) => {
    const findings = judgeRunning(records, clockId, who, when)
    if (findings.length > 0) return findings
    return judgeEnd(records, { ...must(records.clock.get(clockId), 'a clock'), ends, despite }, when)
  },
  apply: (records, { clockId, ends, despite }) => [
    put('clock', { ...must(records.clock.get(clockId), 'a clock'), ends, despite }),
  ],
  inverse: (records, { clockId }, id) => {
    const old = records.clock.get(clockId)
    return old ? { id, kind: 'moveClock', clockId, ends: old.ends, despite: old.despite } : null
  },
})

export const endClock = defineOp<'endClock'>({
  kind: 'endClock',
  roles: by.crew,
  needs: (_records, { pieceId }) => sheetForGate(pieceId),
  judge: (records, { clockId, pieceId, entryId, ended, ends, despite }, who, when) => {
    const findings = judgeRunning(records, clockId, who, when)
    if (findings.length > 0) return findings
    const clock = must(records.clock.get(clockId), 'a clock')
    if (clock.pieceId !== pieceId) return [unknown('clock', clockId)]
    const wrong = [
      ...judgeNewEntry(records, entryId),
      ...unless(ended.date <= when.date, 'O', 'not-yet', { date: ended.date }),
      ...unless(!isBefore(ended, clock.begun), 'O', 'clock-backwards'),
      ...unless(clock.next.length > 0 === (ends !== null), 'O', 'clock-next', { piece: pieceId }),
    ]
    if (wrong.length > 0 || ends === null) return wrong
    return judgeEnd(records, { ...clock, begun: ended, ends, despite }, when)
  },
  apply: (records, { clockId, entryId, text, ended, ends, despite }, who, when) => {
    const clock = must(records.clock.get(clockId), 'a clock')
    const { pieceId, techniqueId } = clock
    const [next, ...after] = clock.next
    return [
      entryOf({ id: entryId, pieceId, kind: 'treatment', techniqueId, text }, who, when),
      next && ends
        ? put('clock', {
            ...clock,
            ...{ what: next.what, begun: ended, ends, despite, next: after, by: who.personId, at: when.at },
          })
        : remove('clock', clockId),
    ]
  },
})

export const dropClock = defineOp<'dropClock'>({
  kind: 'dropClock',
  roles: by.crew,
  judge: (records, { clockId }, who, when) => judgeRunning(records, clockId, who, when),
  apply: (_records, { clockId }) => [remove('clock', clockId)],
  inverse: (records, { clockId }, id) => {
    const old = records.clock.get(clockId)
    if (!old) return null
    const { by: _by, at: _at, ...clock } = old
    return { id, kind: 'startClock', clock }
  },
})

/** A piece on which something runs stays where it can be seen to. */
export function judgeNoClock(records: Records, pieceId: string): readonly Finding[] {
  const running = [...records.clock.values()].find((one) => one.pieceId === pieceId)
  return running
    ? [finding('O', 'clock-runs', { piece: pieceId, date: running.ends.date, time: running.ends.time })]
    : []
}
