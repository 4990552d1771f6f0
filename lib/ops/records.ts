// What is written into a piece's record: entries, and corrections of entries and logs. Nothing is changed or removed:
// a correction is a new record that names the old, and the newest of such a line is the one that counts.
import { correctionOf, exposureCorrected, forceOf, techniqueOf } from '#lib/rules'
import { type Change, type Finding, finding, put, type Records } from '#lib/words'
import { entryOf, judgeNewEntry, knownPiece } from './care.ts'
import { judgePutting, putOn } from './materials.ts'
import { by, defineOp, type When, type Who } from './op.ts'
import { isStaff, isTheirsToday, must, sheetForGate, sheetOf, unknown, unless } from './parts.ts'
import type { OpOf } from './shapes/index.ts'
import { stepWith, tallyWith } from './stretch.ts'

/** Staff write on every piece; volunteers on what is theirs today. */
export function judgeWriter(records: Records, pieceId: string, who: Who, when: When): readonly Finding[] {
  return [
    ...knownPiece(records, pieceId),
    ...unless(isStaff(who) || isTheirsToday(records, who.personId, pieceId, when.date), 'O', 'not-yours', {
      piece: pieceId,
    }),
  ]
}

/** Only a technique of the ladder can be said to move rock or not. */
export function judgeMoved(records: Records, techniqueId: string | null): readonly Finding[] {
  const isOnLadder = techniqueId !== null && forceOf(records, techniqueId) !== null
  return unless(isOnLadder, 'O', 'not-on-ladder', { technique: techniqueId ?? '' })
}

export const write = defineOp<'write'>({
  kind: 'write',
  roles: by.crew,
  needs: (_records, { pieceId }) => sheetForGate(pieceId),
  judge: (records, { pieceId, entryId, entryKind, techniqueId, detail, batchId, despite }, who, when) => [
    ...judgeWriter(records, pieceId, who, when),
    ...unless(techniqueId === null || techniqueOf(records, techniqueId), 'O', 'unknown-technique', {
      technique: techniqueId ?? '',
    }),
    ...judgeNewEntry(records, entryId),
    ...(entryKind === 'question' && records.question.has(entryId)
      ? [finding('O', 'id-taken', { question: entryId })]
      : []),
    ...(detail?.agreed ?? []).flatMap((id) => (records.person.has(id) ? [] : [unknown('person', id)])),
    ...(detail?.movedRock === undefined ? [] : judgeMoved(records, techniqueId)),
    ...judgePutting(records, { pieceId, batchId, isSoakedIn: entryKind === 'consolidant', on: when.date }, despite),
  ],
  apply: (records, { entryId, pieceId, entryKind, techniqueId, text, detail, batchId, despite }, who, when) => [
    entryOf(
      { id: entryId, pieceId, kind: entryKind, techniqueId, text, ...detailWith(records, detail, batchId, despite) },
      who,
      when,
    ),
    ...(entryKind === 'sample' ? sampled(records, pieceId) : []),
    // What is asked of the researcher is also asked where questions are answered.
    ...(entryKind === 'question'
      ? [put('question', { id: entryId, pieceId, by: who.personId, at: when.at, text, answer: null })]
      : []),
  ],
})

/** A sample is written down: where nobody had said whether any are wanted, that says it. Others may still be wanted. */
function sampled(records: Records, pieceId: string): readonly Change[] {
  const [specimen, jacket] = [records.specimen.get(pieceId), records.jacket.get(pieceId)]
  if (specimen && specimen.sampling === undefined) return [put('specimen', { ...specimen, sampling: 'taken' })]
  return jacket && jacket.sampling === undefined ? [put('jacket', { ...jacket, sampling: 'taken' })] : []
}

/** What is said beside the words, with the batch as it was; nothing where nothing is said. */
function detailWith(
  records: Records,
  detail: OpOf<'write'>['detail'],
  batchId: string | undefined,
  despite: string | undefined,
) {
  const whole = { ...detail, ...putOn(records, batchId, despite) }
  return Object.keys(whole).length === 0 ? {} : { detail: whole }
}

export const correctEntry = defineOp<'correctEntry'>({
  kind: 'correctEntry',
  roles: by.crew,
  needs: (_records, { pieceId }) => sheetOf(pieceId),
  judge: (records, { entryId, corrects, pieceId }, who, when) => {
    const old = records.entry.get(corrects)
    if (!old || old.pieceId !== pieceId) return [unknown('entry', corrects)]
    const newer = correctionOf(records, 'entry', corrects)
    return [
      ...judgeWriter(records, pieceId, who, when),
      ...unless(isStaff(who) || old.by === who.personId, 'O', 'not-yours', { person: old.by }),
      ...(newer === null ? [] : [finding('R6', 'corrected', { record: corrects, newer })]),
      ...judgeNewEntry(records, entryId),
    ]
  },
  apply: (records, { entryId, corrects, pieceId, text }, who, when) => {
    const { kind, techniqueId, detail } = must(records.entry.get(corrects), 'an entry')
    const written = { id: entryId, pieceId, kind, techniqueId, text, ...(detail && { detail }) }
    return [entryOf(written, who, when, corrects)]
  },
})

export const correctLog = defineOp<'correctLog'>({
  kind: 'correctLog',
  roles: by.crew,
  needs: (_records, { pieceId }) => sheetOf(pieceId),
  judge: (records, { logId, corrects, pieceId, minutes, runningMinutes: told }, who) => {
    const old = records.log.get(corrects)
    if (!old || old.pieceId !== pieceId) return [unknown('log', corrects)]
    const newer = correctionOf(records, 'log', corrects)
    return [
      ...knownPiece(records, pieceId),
      ...unless(isStaff(who) || old.personId === who.personId, 'O', 'not-yours', { person: old.personId }),
      ...(newer === null ? [] : [finding('R6', 'corrected', { record: corrects, newer })]),
      ...unless(!records.log.has(logId), 'R6', 'only-added', { record: logId }),
      ...unless((told ?? old.runningMinutes) <= minutes, 'O', 'more-than-bench', { record: corrects }, { minutes }),
    ]
  },
  apply: (records, { logId, corrects, minutes, runningMinutes: told, note }, who, when) => {
    // The work stays whose it was; that the day closed it is corrected by whoever knows better.
    const { closedBy: _day, ...old } = must(records.log.get(corrects), 'a log')
    const more = minutes - old.minutes
    // Whoever may not read the minutes in the hand can correct the others all the same.
    const runningMinutes = told ?? old.runningMinutes
    return [
      put('log', {
        ...old,
        id: logId,
        minutes,
        runningMinutes,
        note,
        corrects,
        writtenBy: who.personId,
        writtenAt: when.at,
      }),
      ...stepWith(records, old.stepId, old.personId, more, null),
      tallyWith(records, old.personId, old.date, more, 0),
      ...correctedWork(records, old, minutes, runningMinutes),
      ...correctedExposure(records, old, runningMinutes),
    ]
  },
})

/** A day that has left the board is counted anew with what was really run. */
function correctedExposure(
  records: Records,
  old: Parameters<typeof exposureCorrected>[1],
  runningMinutes: number,
): readonly Change[] {
  const month = exposureCorrected(records, old, runningMinutes)
  return month ? [put('exposureMonth', month)] : []
}

/** The day's own copy of the work follows its log, so that what was really run counts against the day's limits. */
function correctedWork(
  records: Records,
  old: { readonly personId: string; readonly stepId: string; readonly startedAt: string },
  minutes: number,
  runningMinutes: number,
): readonly Change[] {
  for (const work of records.work.values()) {
    const isIt = work.personId === old.personId && work.stepId === old.stepId && work.startedAt === old.startedAt
    if (isIt && work.state === 'finished') return [put('work', { ...work, minutes, runningMinutes })]
  }
  return []
}
