// At the bench: start, pause, resume, finish. One running work a person; what is finished is logged on the Sheet.
import { assignmentsOn, isClosedOn, judgeDay, type Piece, pieceOf, stepsBefore, techniqueOf, turnId } from '#lib/rules'
import { type Change, type Finding, finding, put, type Records, type Step, type Work } from '#lib/words'
import { judgePutting, putOn } from './materials.ts'
import { by, defineOp, type When, type Who } from './op.ts'
import { begunWork, isStaff, must, sheetForGate, unknown, unless } from './parts.ts'
import { judgeMoved } from './records.ts'
import { STRETCH_MINUTES_MAX } from './shapes/work.ts'
import { judgeLoad, lay, lyingAt } from './shelve.ts'
import { finishedWork, logOf, minutesUntil, stepWith, tallyWith } from './stretch.ts'

export const start = defineOp<'start'>({
  kind: 'start',
  roles: by.crew,
  judge: (records, { workId, assignmentId }, who, when) => {
    const turn = records.assignment.get(assignmentId)
    if (!turn) return [unknown('assignment', assignmentId)]
    if (turn.personId !== who.personId) return [finding('O', 'not-yours', { person: turn.personId })]
    if (turn.date !== when.date) return [finding('O', 'not-today', { date: turn.date })]
    const mine = begunWork(records).find((one) => one.personId === who.personId)
    const step = records.step.get(turn.stepId)
    const piece = pieceOf(records, turn.pieceId)
    return [
      ...unless(!records.work.has(workId), 'O', 'id-taken', { work: workId }),
      ...(mine ? [finding('O', `work-${mine.state}`, { work: mine.id, piece: mine.pieceId })] : []),
      ...judgeOwnTurn(records, turn.date, assignmentId),
      ...(step
        ? [
            ...unless(step.state === 'waiting' || step.state === 'begun', 'O', `step-${step.state}`, { step: step.id }),
            ...stepsBefore(records, step).map((before) =>
              finding('O', 'step-waits', { step: step.id, before: before.id, piece: step.pieceId }),
            ),
          ]
        : []),
      ...(piece ? judgeArrival(records, piece, turn.placeId, when) : []),
    ]
  },
  apply: (records, { workId, assignmentId }, who, when) => {
    const turn = must(records.assignment.get(assignmentId), 'an assignment')
    const step = must(records.step.get(turn.stepId), 'a step')
    const piece = must(pieceOf(records, turn.pieceId), 'a piece')
    const { personId, pieceId, stepId, placeId, date, shiftId } = turn
    const tickId = turnId(date, shiftId, personId)
    return [
      put('work', {
        id: workId,
        personId,
        pieceId,
        stepId,
        placeId,
        techniqueId: step.techniqueId,
        date,
        shiftId,
        state: 'running',
        startedAt: when.at,
        since: when.at,
        minutes: 0,
        runningMinutes: 0,
      }),
      ...(step.state === 'waiting' ? [put('step', begun(records, step))] : []),
      ...(piece.placeId === placeId ? [] : [lay(piece, piece.shelf, placeId)]),
      ...putAway(records, piece, placeId),
      // Whoever starts is in, whatever was ticked before.
      ...(records.attendance.get(tickId)?.state === 'in'
        ? []
        : [
            put('attendance', {
              id: tickId,
              personId: who.personId,
              date,
              shiftId,
              state: 'in',
              dueAt: null,
              at: when.at,
            }),
          ]),
    ]
  },
})

/** The step as it is begun: what is still to be exposed then is what its work will be counted by. */
function begun(records: Records, step: Readonly<Step>): Step {
  const surface = records.specimen.get(step.pieceId)?.ratings.toExposeCm2
  return { ...step, state: 'begun', ...(surface === undefined ? {} : { begunCm2: surface }) }
}

/** What stands against the turn itself now; being ticked away is answered by starting. */
function judgeOwnTurn(records: Records, date: string, id: string): readonly Finding[] {
  const own = judgeDay(records, date, assignmentsOn(records, date)).filter((one) => one.ids.assignment === id)
  return own.filter((one) => one.code !== 'is-away' && one.code !== 'step-waits')
}

/** The piece comes to the place: it must be in use, free of work on other pieces where it takes only one, and bear it. */
function judgeArrival(records: Records, piece: Piece, placeId: string, when: When): readonly Finding[] {
  const place = records.place.get(placeId)
  if (!place) return []
  const ids = { place: placeId, piece: piece.id }
  const lying = lyingAt(records, placeId).filter((other) => other.id !== piece.id)
  const stuck = lying.find((other) => other.isTied || begunWork(records).some((one) => one.pieceId === other.id))
  const elsewhere = begunWork(records).find((one) => one.pieceId === piece.id && one.placeId !== placeId)
  return [
    ...unless(!isClosedOn(place, when.date), 'O', 'place-closed', ids),
    ...(elsewhere ? [finding('R1', 'piece-elsewhere', { ...ids, other: elsewhere.personId })] : []),
    ...(place.isExclusive && stuck ? [finding('R1', 'exclusive-taken', { ...ids, other: stuck.id })] : []),
    ...(piece.placeId === placeId ? [] : judgeLoad(place, piece, place.isExclusive ? [] : lying)),
  ]
}

/** An exclusive place is cleared for the new piece: what lay there goes back to its shelf. */
function putAway(records: Records, piece: Piece, placeId: string): readonly Change[] {
  if (!records.place.get(placeId)?.isExclusive) return []
  return lyingAt(records, placeId).flatMap((other) => (other.id === piece.id ? [] : [lay(other, other.shelf, null)]))
}

function judgeOwnWork(records: Records, workId: string, who: Who, state: 'running' | 'paused'): readonly Finding[] {
  const work = records.work.get(workId)
  if (!work) return [unknown('work', workId)]
  if (work.personId !== who.personId) return [finding('O', 'not-yours', { person: work.personId })]
  return unless(work.state === state, 'O', `work-${work.state}`, { work: workId, piece: work.pieceId })
}

export const pause = defineOp<'pause'>({
  kind: 'pause',
  roles: by.crew,
  judge: (records, { workId }, who) => judgeOwnWork(records, workId, who, 'running'),
  apply: (records, { workId }, _who, when) => {
    const work = must(records.work.get(workId), 'a work')
    return [put('work', { ...work, state: 'paused', since: null, minutes: minutesUntil(work, Date.parse(when.at)) })]
  },
})

export const resume = defineOp<'resume'>({
  kind: 'resume',
  roles: by.crew,
  judge: (records, { workId }, who) => {
    const other = begunWork(records).find((one) => one.personId === who.personId && one.state === 'running')
    return [
      ...judgeOwnWork(records, workId, who, 'paused'),
      ...(other && other.id !== workId ? [finding('O', 'work-running', { work: other.id, piece: other.pieceId })] : []),
    ]
  },
  apply: (records, { workId }, _who, when) => [
    put('work', { ...must(records.work.get(workId), 'a work'), state: 'running', since: when.at }),
  ],
})

export const finish = defineOp<'finish'>({
  kind: 'finish',
  roles: by.crew,
  needs: (records, { workId }) => {
    const work = records.work.get(workId)
    return work ? sheetForGate(work.pieceId) : []
  },
  judge: (records, op, who, when) => {
    const work = records.work.get(op.workId)
    if (!work) return [unknown('work', op.workId)]
    if (work.personId !== who.personId && !isStaff(who)) {
      return [finding('O', 'not-yours', { person: work.personId })]
    }
    const piece = pieceOf(records, work.pieceId)
    const mate = begunWork(records).find((one) => one.pieceId === work.pieceId && one.id !== work.id)
    const minutes = stretchMinutes(records, op, when)
    return [
      ...unless(work.state !== 'finished', 'O', 'work-finished', { work: work.id, piece: work.pieceId }),
      ...unless(!records.log.has(op.logId), 'R6', 'only-added', { record: op.logId }),
      ...(op.movedRock === undefined ? [] : judgeMoved(records, work.techniqueId)),
      ...unless(op.runningMinutes <= minutes, 'O', 'more-than-bench', { work: work.id }, { minutes }),
      ...(op.batchId === undefined ? [] : judgePutting(records, putBy(records, work, op.batchId, when), op.despite)),
      ...(op.shelf === null || !piece?.isTied ? [] : [finding('O', 'piece-tied', { piece: work.pieceId })]),
      ...(op.shelf === null || !mate
        ? []
        : [finding('O', 'still-worked', { piece: work.pieceId, person: mate.personId })]),
      ...(op.stepDone && mate && mate.stepId === work.stepId
        ? [finding('O', 'still-worked', { piece: work.pieceId, step: work.stepId, person: mate.personId })]
        : []),
    ]
  },
  apply: (records, op, who, when) => {
    const work = must(records.work.get(op.workId), 'a work')
    const piece = pieceOf(records, work.pieceId)
    const minutes = stretchMinutes(records, op, when)
    const told = {
      id: op.logId,
      finishedAt: when.at,
      minutes,
      runningMinutes: op.runningMinutes,
      note: op.note,
      ...(op.movedRock === undefined ? {} : { movedRock: op.movedRock }),
      ...(op.batchId === undefined ? {} : putOn(records, op.batchId, op.despite)),
    }
    return [
      finishedWork(work, minutes, op.runningMinutes),
      put('log', {
        ...logOf(work, told),
        ...(who.personId === work.personId ? {} : { writtenBy: who.personId, writtenAt: when.at }),
      }),
      ...stepWith(records, work.stepId, work.personId, minutes, op.stepDone),
      tallyWith(records, work.personId, work.date, minutes, 1),
      ...(op.shelf === null || !piece ? [] : [lay(piece, op.shelf, null)]),
    ]
  },
})

/** What was put on in a stretch of work. */
function putBy(records: Records, { pieceId, techniqueId }: Readonly<Work>, batchId: string, when: When) {
  const isSoakedIn = techniqueOf(records, techniqueId)?.group === 'consolidating'
  return { pieceId, batchId, isSoakedIn, on: when.date }
}

/** What the person said, or else the clock's minutes, within what is believed. */
function stretchMinutes(
  records: Records,
  op: { readonly workId: string; readonly minutes: number | null },
  when: When,
): number {
  if (op.minutes !== null) return op.minutes
  const work = must(records.work.get(op.workId), 'a work')
  return Math.min(STRETCH_MINUTES_MAX, minutesUntil(work, Date.parse(when.at)))
}
