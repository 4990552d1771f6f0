// What a move stands for: who acts, when, and the op, drawn mostly from what is there and what may be done, so that
// histories get somewhere; the rest is tried too, and refused.
import { addDays } from '#lib/base'
import { toKeep } from '#lib/forecast'
import { type Op, parseOp, type When, type Who } from '#lib/ops'
import { PersonId, type Records, type Role } from '#lib/words'
import { aForbid, aFragment, aJacket, aPerson, aPlace, aSpecimen, aStep, TODAY } from '../../kit/makers.ts'
import { aHousing, aLift, anAssessment, said } from '../../kit/makers-custody.ts'
import { aClock, aMaterial, madeUp } from '../../kit/makers-materials.ts'
import { aStroke, photoCorrected, photoSaid } from '../../kit/makers-photos.ts'
import type { Move } from './random-lab.ts'
import { letterOf, mayDo } from './tables.ts'

const roles: readonly Role[] = ['manager', 'preparator', 'volunteer', 'researcher', 'wall']

/** Mostly somebody who may; now and then anybody, somebody in a role that is not theirs, or the wall. */
export function whoOf(records: Records, move: Move): Who {
  const people = [...records.person.values()]
  const anybody = people[move.who % people.length]
  const wall: Who = { personId: PersonId.parse('wall'), role: 'wall' }
  if (move.kind === 'clock' || move.who === 19) return wall
  if (move.who >= 18) return { personId: anybody?.id ?? wall.personId, role: roles[at(move, 9) % 5] ?? 'wall' }
  const owner = move.who < 12 ? ownerOf(records, move) : undefined
  const letters = mayDo[move.kind]
  const able = people.filter((person) => person.isActive && letters.includes(letterOf[person.role]))
  const person = owner ?? (move.who < 15 ? able[at(move, 9) % Math.max(1, able.length)] : undefined) ?? anybody
  return person ? { personId: person.id, role: person.role } : wall
}

/** Whoever the act's own record belongs to. */
function ownerOf(records: Records, move: Move) {
  const owned = ownedBy(records, move.kind)
  const personId = owned[at(move, 7) % Math.max(1, owned.length)]?.personId
  return personId === undefined ? undefined : records.person.get(personId)
}

function ownedBy(records: Records, kind: Move['kind']): readonly { readonly id: string; readonly personId: string }[] {
  switch (kind) {
    case 'start':
    case 'offerSwap':
      return [...records.assignment.values()]
    case 'dropSwap':
      return [...records.swap.values()]
    case 'seenReseat':
      return [...records.reseat.values()]
    case 'unclaim':
      return [...records.assignment.values()].filter((one) => one.how === 'claimed')
    case 'pause':
    case 'finish':
      return [...records.work.values()].filter((one) => one.state !== 'finished')
    case 'resume':
      return [...records.work.values()].filter((one) => one.state === 'paused')
    case 'unwatch':
      return [...records.watch.values()]
    case 'dropSignOffAsk':
      return [...records.signOffAsk.values()]
    default:
      return []
  }
}

const at = (move: Move, i: number): number => move.picks[i] ?? 0

export function whenOf(day: number, step: number): When {
  const date = addDays(TODAY, day)
  const minute = 540 + step * 7
  const time = new Date(Date.parse(`${date}T00:00:00Z`) + minute * 60_000).toISOString()
  return { at: time, date, minute }
}

/** The op a move stands for on these records; null when the door would not let it in. */
export function opOf(records: Records, move: Move, when: When, who: Who, n: number): Op | null {
  if (move.kind === 'clock') return null
  const body = fields(records, move, when, who, `x${n}`)
  const parsed = parseOp({ id: `op${n}`, kind: move.kind, ...body })
  return parsed.op ?? null
}

function fields(records: Records, move: Move, when: When, who: Who, fresh: string): Record<string, unknown> {
  const one = <T>(list: Iterable<T>, i: number): T | undefined => {
    const all = [...list]
    return all[at(move, i) % Math.max(1, all.length)]
  }
  const idOf = (list: ReadonlyMap<string, unknown>, i: number) => one(list.keys(), i) ?? 'nothing'
  const is = (i: number, part = 2) => at(move, i) % part === 0
  const lab = records.lab.get('lab')
  const personId = is(5, 4) ? who.personId : idOf(records.person, 5)
  const actor = records.person.get(move.kind === 'claim' ? who.personId : personId)
  // Mostly work that the person has some skill in: the rest is tried too, and refused.
  const skilledSteps = [...records.step.values()].filter(
    (each) => is(9, 8) || actor?.skills.some((skill) => skill.techniqueId === each.techniqueId),
  )
  const closedSteps = [...records.step.values()].filter((each) => each.state === 'done' || each.state === 'dropped')
  const isTurn = move.kind === 'claim' || move.kind === 'seat' || move.kind === 'hold'
  const isReopened = move.kind === 'reopenStep' && closedSteps.length > 0
  const fromSteps = isTurn ? skilledSteps : isReopened ? closedSteps : records.step.values()
  const step = one(fromSteps, 0)
  const resting = [...records.resting.keys()]
  const pieceId = (move.kind === 'bringBack' ? one(resting, 0) : undefined) ?? step?.pieceId ?? 'nothing'
  const specimenId = idOf(records.specimen, 0)
  const techniqueId = one(lab?.techniques ?? [], 1)?.id ?? 'needle'
  const date = addDays(when.date, is(2, 4) ? 1 : is(2, 11) ? -1 : 0)
  const shiftId = is(3) ? 'morning' : 'afternoon'
  const placeId = idOf(records.place, 4)
  const turn = { date, shiftId, personId, pieceId: step?.pieceId ?? 'nothing', stepId: step?.id ?? 'nothing', placeId }
  const owned = ownedBy(records, move.kind)
  const ownId = is(6, 7) ? undefined : owned.find((each) => each.personId === who.personId)?.id
  const todays = [...records.assignment.values()].filter((each) => each.date >= when.date)
  const assignmentId = ownId ?? one(todays, 7)?.id ?? idOf(records.assignment, 7)
  const workId = ownId ?? idOf(records.work, 7)
  const log = one(records.log.values(), 0)
  const entry = one(records.entry.values(), 0)
  switch (move.kind) {
    case 'clock':
      return {}
    case 'setLab': {
      const limits = { ...lab?.limits, vibrationPoints: 20 + (at(move, 1) % 200), learnersPerMentor: at(move, 2) % 3 }
      const compressor = { deliveryLpm: 100 + (at(move, 1) % 300), dutyPct: 60 }
      const techniques = (lab?.techniques ?? []).slice(is(4) ? 1 : 0)
      const exits = { id: 'exits', name: 'fire exits', isRequired: is(1), from: addDays(when.date, at(move, 2) % 3) }
      if (is(3, 4)) return { patch: { induction: is(5) ? [exits] : [] } }
      return { patch: is(0, 3) ? { limits } : is(0) ? { compressor } : { techniques } }
    }
    case 'setRoom':
      return { room: { ...records.room.get('room'), widthM: at(move, 0) % 30 } }
    case 'addPlace':
      return { place: aPlace({ id: fresh, code: is(1) ? `P${at(move, 2)}` : 'b1', xM: at(move, 3) % 10 }) }
    case 'editPlace':
      return {
        placeId,
        patch: is(0)
          ? { seats: at(move, 1) % 3, isExclusive: is(2) }
          : is(3, 3)
            ? { isInView: is(1), features: is(2) ? ['fume hood'] : [] }
            : { xM: at(move, 1) % 10, airLines: at(move, 2) % 3 },
      }
    case 'removePlace':
      return { placeId }
    case 'closePlace':
      return { placeId, until: is(0) ? addDays(when.date, 1) : null, reason: 'broken' }
    case 'addPerson':
      return { person: aPerson({ id: fresh, name: is(0, 4) ? 'ana' : fresh }) }
    case 'editPerson': {
      const role = roles[at(move, 0) % 4]
      return { personId, patch: is(1) ? { loves: [techniqueId] } : is(2) ? { role } : { isActive: is(3), name: fresh } }
    }
    case 'setPattern':
      return { personId, pattern: is(0) ? [{ weekday: 3, shiftId }] : [] }
    case 'setException':
      return { personId, date, shiftId: is(0) ? shiftId : null, exception: is(1, 3) ? null : is(1) ? 'away' : 'extra' }
    case 'setSpells':
      return {
        personId,
        spells: is(0)
          ? [{ from: date, to: addDays(date, at(move, 1) % 3), pattern: is(2) ? [{ weekday: 3, shiftId }] : [] }]
          : [],
      }
    case 'takeCalendar':
      return { from: date, to: addDays(date, 2), busy: is(0, 3) ? [] : [{ date, shiftId }] }
    case 'tickInduction':
      return { itemId: is(0) ? 'exits' : 'lifting', personIds: [personId], isDone: is(1) }
    case 'markNoShow':
      return { personId, date, shiftId, isNoShow: is(0) }
    case 'signOff':
      return { personId, techniqueId, level: at(move, 0) % 5, expiresOn: is(3, 4) ? addDays(when.date, 1) : null }
    case 'askSignOff':
      return { techniqueId, note: '' }
    case 'dropSignOffAsk':
      return { askId: ownId ?? idOf(records.signOffAsk, 0) }
    case 'attend':
      return { personId, date, shiftId, state: [null, 'in', 'late', 'away', 'left'][at(move, 0) % 5], dueAt: null }
    case 'setContact':
      return { contact: { id: personId, phone: '1', email: '', emergency: '' } }
    case 'writePrivateNote':
      return { note: { id: fresh, aboutPersonId: personId, aboutPieceId: null, text: 'private' } }
    case 'addJacket':
      return { jacket: aJacket({ id: fresh }), steps: [aStep({ id: `${fresh}-1`, pieceId: fresh, techniqueId })] }
    case 'editJacket':
      return { pieceId: idOf(records.jacket, 0), patch: { note: fresh, isInSeason: is(1) } }
    case 'addSpecimen':
      return {
        specimen: aSpecimen({ id: fresh, forceCeiling: techniqueId, jacketId: is(2) ? idOf(records.jacket, 3) : null }),
        steps: [aStep({ id: `${fresh}-1`, pieceId: fresh })],
      }
    case 'editSpecimen':
      return {
        pieceId: specimenId,
        patch: is(1)
          ? { isPriority: is(2) }
          : { mass: { lowKg: 1, highKg: at(move, 2), weighedKg: null }, isTied: is(3) },
      }
    case 'setCeiling':
      return { pieceId: specimenId, techniqueId, reason: 'why', entryId: is(2, 9) ? idOf(records.entry, 3) : fresh }
    case 'assess': {
      const rating = 1 + (at(move, 1) % 5)
      const assessment = { ...anAssessment({ id: fresh, pieceId: is(2, 3) ? idOf(records.jacket, 0) : specimenId }) }
      return { assessment: said(assessment, { rockHardness: rating, forceCeiling: techniqueId }) }
    }
    case 'relate': {
      const pieceIds = [specimenId, is(1) ? idOf(records.jacket, 2) : idOf(records.specimen, 2)]
      return { relation: { id: fresh, what: is(3) ? 'counterpart' : 'split', pieceIds, note: '' } }
    }
    case 'endRelation':
      return { relationId: fresh, ends: idOf(records.relation, 0), note: '' }
    case 'house': {
      const massKg = 1 + (at(move, 1) % 90)
      const shelf = is(3) ? 'rack 1, shelf a' : ''
      const housing = said(
        aHousing({ id: fresh, pieceId: specimenId, massKg, bearsKg: massKg + 1 - (at(move, 2) % 3), shelf }),
      )
      return { housing, despite: is(4) ? 'for a day' : '' }
    }
    case 'measureLift':
      return { lift: said(aLift({ id: is(2, 5) ? 'lift1' : fresh, pieceId: is(1) ? specimenId : pieceId })) }
    case 'setRack':
      return {
        rackId: is(1) ? 'r1' : fresh,
        name: `rack ${1 + (at(move, 2) % 2)}`,
        ratedKg: is(3, 4) ? null : at(move, 4) % 200,
      }
    case 'setMaterial': {
      const solventIds = is(1, 3) ? ['acetone'] : is(2, 3) ? ['resin'] : []
      return { material: aMaterial({ id: is(3) ? 'resin' : fresh, name: is(4) ? 'Resin' : fresh, solventIds }) }
    }
    case 'makeBatch': {
      const stock = one(records.batch.values(), 2)
      const thinnedFrom = is(1) && stock ? { batchId: stock.id, stockMl: 100, stockG: null } : null
      const amount = 1 + (at(move, 3) % 20)
      const despite = is(4) ? 'all there is' : ''
      return { batch: madeUp({ id: fresh, thinnedFrom, strength: { amount, convention: 'wv' }, despite }) }
    }
    case 'endBatch':
      return { batchId: idOf(records.batch, 0), why: is(1, 3) ? null : 'used up' }
    case 'handOver': {
      const isWhole = is(1)
      const told = { to: is(2) ? 'loan' : 'exhibit', holder: 'the hall', receivedBy: '', until: is(3) ? TODAY : null }
      const state = {
        condition: isWhole ? 'sound' : '',
        isPurposeMet: true,
        isLabelled: isWhole,
        photographs: 'book 1',
      }
      return {
        custodyId: fresh,
        pieceId: specimenId,
        said: { ...told, ...state },
        reason: is(4) ? 'it is fetched today' : '',
      }
    }
    case 'escalate':
      return {
        escalationId: fresh,
        pieceId: specimenId,
        techniqueId,
        testPatch: 'there',
        reason: 'why',
        entryId: fresh,
      }
    case 'endEscalation':
      return { escalationId: idOf(records.escalation, 0) }
    case 'openJacket':
    case 'emptyJacket':
      return { pieceId: idOf(records.jacket, 0) }
    case 'moveStage': {
      const stage = ['opened', 'exposing', 'joining', 'released'][at(move, 1) % 4]
      return { pieceId: specimenId, stage, note: '', entryId: fresh }
    }
    case 'shelve':
      return { pieceId, shelf: fresh, placeId: is(1) ? placeId : null }
    case 'addStep':
      return { step: aStep({ id: fresh, pieceId, techniqueId, after: is(2) && step ? [step.id] : [] }) }
    case 'editStep':
      return { stepId: step?.id, patch: is(2) ? { techniqueId } : { peopleMax: 1 + (at(move, 1) % 2), after: [] } }
    case 'dropStep':
    case 'finishStep':
      return { stepId: step?.id }
    case 'startClock':
      return {
        clock: aClock({
          ...{ id: fresh, pieceId, stepId: is(1) ? (step?.id ?? null) : null, techniqueId: is(2) ? techniqueId : null },
          ...{ begun: { date: when.date, time: '09:00' }, ends: { date, time: is(3) ? '11:00' : '21:00' } },
          ...{ despite: is(4) ? 'runs alone' : '', next: is(5) ? [{ what: 'rinsing', minutes: 60 }] : [] },
        }),
      }
    case 'moveClock':
      return {
        clockId: idOf(records.clock, 0),
        ends: { date, time: is(1) ? '11:00' : '20:00' },
        despite: is(2) ? 'so' : '',
      }
    case 'endClock': {
      const clock = one(records.clock.values(), 0)
      const ends = clock && clock.next.length > 0 && !is(1, 5) ? { date, time: '11:30' } : null
      return {
        ...{ clockId: clock?.id ?? 'nothing', pieceId: clock?.pieceId ?? pieceId, entryId: fresh, text: 'out' },
        ...{ ended: { date: when.date, time: '11:00' }, ends, despite: is(2) ? 'so' : '' },
      }
    }
    case 'dropClock':
      return { clockId: idOf(records.clock, 0) }
    case 'reopenStep':
      return { stepId: step?.id }
    case 'askDue':
      return { dueId: fresh, pieceId, date, dueKind: 'loan', isHard: is(0), note: '' }
    case 'answerDue':
      return { dueId: idOf(records.due, 0), accept: is(1) }
    case 'moveDue':
      return { dueId: idOf(records.due, 0), date, isHard: is(1) }
    case 'endDue':
      return { dueId: idOf(records.due, 0), state: is(1) ? 'met' : 'dropped' }
    case 'unwatch':
      return { pieceId: one(records.watch.values(), 7)?.pieceId ?? pieceId }
    case 'watch':
    case 'rest':
    case 'bringBack':
      return { pieceId }
    case 'importRows':
      return { importId: 'import-1', jackets: [aJacket({ id: fresh, state: 'sealed' })] }
    case 'undoImport':
      return { importId: 'import-1', pieceIds: [fresh] }
    case 'askQuestion':
      return { questionId: fresh, pieceId, text: 'which side?' }
    case 'answerQuestion':
      return { questionId: idOf(records.question, 0), text: 'left' }
    case 'hold':
    case 'seat':
      return turn
    case 'unhold':
      return { holdId: idOf(records.hold, 0) }
    case 'forbid':
      return {
        forbid: aForbid({ id: fresh, personId, pieceId: is(1) ? pieceId : null, placeId: is(2) ? placeId : null }),
      }
    case 'allow':
      return { forbidId: idOf(records.forbid, 0) }
    case 'post':
      return { date, assignments: wholeDay(records, move, date), note: '' }
    case 'unseat':
    case 'unclaim':
      return { assignmentId }
    case 'seenReseat':
      return { assignmentId: idOf(records.reseat, 0) }
    case 'erasePerson':
      return { personId, as: ['name', 'initials', 'volunteer'][at(move, 1) % 3] }
    case 'offerSwap':
      return { assignmentId, note: '' }
    case 'dropSwap':
      return { swapId: ownId ?? idOf(records.swap, 7) }
    case 'takeSwap':
      return {
        swapId: idOf(records.swap, 7),
        gives: is(1)
          ? ([...records.assignment.values()].find((each) => each.personId === who.personId)?.id ?? null)
          : null,
      }
    case 'claim': {
      const { personId: _own, ...rest } = turn
      return rest
    }
    case 'start':
      return { workId: is(1, 9) ? idOf(records.work, 7) : fresh, assignmentId }
    case 'pause':
    case 'resume':
      return { workId }
    case 'finish':
      return {
        workId,
        logId: is(1, 9) ? (log?.id ?? fresh) : fresh,
        minutes: is(2) ? 60 : null,
        runningMinutes: is(2) ? at(move, 3) % 60 : 0,
        note: '',
        ...(is(6, 3) ? { batchId: idOf(records.batch, 4), despite: is(7) ? 'none are wanted' : '' } : {}),
        stepDone: is(4, 4),
        shelf: is(5, 3) ? fresh : null,
      }
    case 'correctLog':
      return {
        logId: is(1, 9) ? (log?.id ?? fresh) : fresh,
        corrects: log?.id ?? 'nothing',
        pieceId: log?.pieceId ?? 'nothing',
        minutes: 10 + (at(move, 2) % 50),
        runningMinutes: at(move, 3) % 20,
        note: 'told wrong',
      }
    case 'write':
      return {
        entryId: is(1, 9) ? (entry?.id ?? fresh) : fresh,
        pieceId,
        entryKind: is(2, 3) ? 'consolidant' : 'note',
        techniqueId: null,
        text: 'a crack',
        ...(is(3) ? { batchId: idOf(records.batch, 4) } : {}),
        ...(is(4) ? { despite: 'it crumbles' } : {}),
      }
    case 'measureFragments': {
      const { id: _id, pieceId: _piece, by: _by, at: _at, ...seen } = aFragment({ number: 1 + (at(move, 0) % 4) })
      return { pieceId, fragments: [{ id: fresh, ...seen }], areNew: is(1) }
    }
    case 'tryPair':
      return { tryId: fresh, pieceId, pair: [1, 2 + (at(move, 0) % 3)], result: is(1) ? 'fit' : 'no fit' }
    case 'joinPair':
      return {
        ...{ joinId: fresh, pieceId, pair: [1, 2 + (at(move, 0) % 3)] },
        curedAt: is(4) ? { date, time: '11:00' } : null,
        batchId: is(3, 3) ? idOf(records.batch, 4) : null,
        ...{ state: is(1) ? 'glued' : is(2) ? 'trial' : 'undone', adhesive: 'B-72' },
      }
    case 'addPhoto': {
      const hash = `${at(move, 0) % 4}`.repeat(64)
      const entryId = is(2) ? (entry?.id ?? null) : null
      return photoSaid({ id: is(1, 9) ? idOf(records.photo, 0) : fresh, pieceId, entryId, hash, takenBy: personId })
    }
    case 'drawStroke': {
      const { id: _id, by: _by, at: _at, withdraws: _none, ...stroke } = aStroke({ pieceId })
      const photoHash = is(1) ? `${at(move, 0) % 4}`.repeat(64) : null
      return { ...stroke, strokeId: fresh, photoHash, view: photoHash === null ? stroke.view : null }
    }
    case 'wipeStroke': {
      const stroke = [...records.stroke.values()][at(move, 0) % Math.max(1, records.stroke.size)]
      return { strokeId: fresh, pieceId: stroke?.pieceId ?? 'nothing', withdraws: stroke?.id ?? 'nothing' }
    }
    case 'correctPhoto': {
      const photo = [...records.photo.values()][at(move, 0) % Math.max(1, records.photo.size)]
      const over = { corrects: photo?.id ?? 'nothing', pieceId: photo?.pieceId ?? 'nothing', withdrawn: is(2) }
      return photoCorrected({ id: fresh, view: is(1) ? 'ventral' : 'detail', takenBy: personId, ...over })
    }
    case 'correctEntry':
      return {
        entryId: fresh,
        corrects: entry?.id ?? 'nothing',
        pieceId: entry?.pieceId ?? 'nothing',
        text: 'no crack',
      }
    case 'setCheck':
      return {
        check: {
          ...{ id: is(0) ? 'check1' : fresh, name: 'Arm', what: 'extraction', placeId: is(1, 3) ? null : placeId },
          ...{ every: { unit: is(2) ? 'days' : 'shifts', count: 1 }, ratedKg: null, since: date, isActive: is(3, 4) },
        },
      }
    case 'doCheck': {
      const result = is(1, 3) ? 'fault' : 'good'
      return { doneId: fresh, checkId: idOf(records.check, 0), shiftId: is(2) ? shiftId : null, result, note: '' }
    }
    case 'reportIncident': {
      const corrects = is(0) ? null : idOf(records.incident, 1)
      const what = is(2, 9) ? ' ' : 'A sling slipped.'
      const about = { personId: is(3) ? personId : null, placeId: is(4) ? placeId : null, pieceId: null }
      return { incident: { id: fresh, kind: 'near miss', date, what, done: '', corrects, ...about } }
    }
    case 'addSample':
      return {
        sample: {
          ...{ id: fresh, personId, date, agent: 'acetone', amount: at(move, 1) % 900, unit: 'ppm', minutes: 60 },
          ...{ method: '', corrects: null },
        },
      }
    case 'acknowledge':
      return { seen: [{ key: `technique.${techniqueId}`, version: `v${at(move, 1) % 3}` }] }
    case 'beginDay':
      return { date: when.date }
    case 'keepForecasts':
      return { forecasts: toKeep(records, { at: when.at, on: when.date }).slice(0, 5) }
    case 'noteOutlooks':
      return {
        on: when.date,
        outlooks: [...records.due.values()].map(({ id, date }) => ({ dueId: id, date, chance: 0.5, median: null })),
      }
  }
}

/** The day as it is with a few random turns more. */
function wholeDay(records: Records, move: Move, date: string): readonly object[] {
  const kept = [...records.assignment.values()]
    .filter((one, i) => one.date === date && (at(move, 6) + i) % 9 !== 0)
    .map(({ shiftId, personId, pieceId, stepId, placeId }) => ({ shiftId, personId, pieceId, stepId, placeId }))
  const people = [...records.person.values()]
  const places = [...records.place.keys()]
  const more = [0, 1, 2].slice(0, at(move, 8) % 4).flatMap((i) => {
    const person = people[at(move, i + 3) % people.length]
    const steps = [...records.step.values()].filter((each) =>
      person?.skills.some((skill) => skill.techniqueId === each.techniqueId),
    )
    const step = steps[at(move, i) % Math.max(1, steps.length)]
    if (!step || !person) return []
    const placeId = places[at(move, i + 5) % Math.max(1, places.length)]
    const shiftId = at(move, 2) % 2 ? 'morning' : 'afternoon'
    return [{ shiftId, personId: person.id, pieceId: step.pieceId, stepId: step.id, placeId }]
  })
  const taken = new Set(more.map((one) => `${one.shiftId} ${one.personId}`))
  return [...kept.filter((one) => at(move, 4) % 5 === 0 || !taken.has(`${one.shiftId} ${one.personId}`)), ...more]
}
