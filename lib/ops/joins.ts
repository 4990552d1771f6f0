// Fragments, tries and joins of a piece. All are only added to: a fragment measured again, a pair tried again and a join
// taken apart are new records, and the newest counts. What a try tells may come from whoever sits at the tray offline.
import { timeOfMinute } from '#lib/base'
import { fragmentsOf, judgeTended, lastJoins, lastTries, pairKey } from '#lib/rules'
import { type Change, type Finding, type FragmentPair, type LabTime, put, type Records, remove } from '#lib/words'
import { judgePutting, putOn } from './materials.ts'
import { by, defineOp, type When, type Who } from './op.ts'
import { sheetOf, unknown, unless } from './parts.ts'
import { judgeWriter } from './records.ts'
import type { OpOf } from './shapes/index.ts'
import { judgeDate } from './wishes.ts'

const needs = (_records: Records, { pieceId }: { readonly pieceId: string }) => sheetOf(pieceId)

function* ofPiece<T extends { readonly pieceId: string }>(records: ReadonlyMap<string, T>, pieceId: string) {
  for (const record of records.values()) if (record.pieceId === pieceId) yield record
}

/** Both fragments lie on the tray, and are two. */
function judgePair(records: Records, pieceId: string, pair: FragmentPair): readonly Finding[] {
  const numbers = new Set(fragmentsOf(ofPiece(records.fragment, pieceId)).map(({ number }) => number))
  const missing = pair.find((number) => !numbers.has(number))
  if (missing !== undefined) return [unknown('fragment', String(missing))]
  return unless(pair[0] < pair[1], 'O', 'pair-order', { piece: pieceId })
}

export const measureFragments = defineOp<'measureFragments'>({
  kind: 'measureFragments',
  roles: by.crew,
  needs,
  judge: (records, { pieceId, fragments, areNew }, who, when) => {
    const there = new Set(fragmentsOf(ofPiece(records.fragment, pieceId)).map(({ number }) => number))
    const numbers = fragments.map(({ number }) => number)
    const clash = numbers.find((number, index) => (areNew && there.has(number)) || numbers.indexOf(number) !== index)
    return [
      ...judgeWriter(records, pieceId, who, when),
      ...unless(clash === undefined, 'O', 'fragment-taken', { piece: pieceId, number: String(clash) }),
      ...fragments.flatMap(({ id }) => unless(!records.fragment.has(id), 'R6', 'only-added', { record: id })),
    ]
  },
  apply: (_records, { pieceId, fragments }, who, when) =>
    fragments.map((one) => put('fragment', { ...one, pieceId, by: who.personId, at: when.at })),
})

export const tryPair = defineOp<'tryPair'>({
  kind: 'tryPair',
  roles: by.crew,
  needs,
  judge: (records, { tryId, pieceId, pair, result }, who, when) => {
    const last = lastTries(ofPiece(records.pairTry, pieceId)).get(pairKey(pair))
    return [
      ...judgeWriter(records, pieceId, who, when),
      ...judgePair(records, pieceId, pair),
      // A second `not sure` is worth knowing; the same certainty twice is a double press.
      ...unless(result === 'unsure' || last?.result !== result, 'O', 'as-it-is', { piece: pieceId }),
      ...unless(!records.pairTry.has(tryId), 'R6', 'only-added', { record: tryId }),
    ]
  },
  apply: (_records, { tryId, pieceId, pair, result }, who, when) => [
    put('pairTry', { id: tryId, pieceId, pair, result, by: who.personId, at: when.at }),
  ],
})

/** What stands against the end of a cure: it is past, or nobody is there to see that it held. */
function judgeCure(records: Records, curedAt: LabTime, despite: string | undefined, when: When): readonly Finding[] {
  const date = judgeDate(curedAt.date, when)
  return date.length > 0 ? date : judgeTended(records, null, curedAt, despite)
}

type Cured = Pick<OpOf<'joinPair'>, 'pieceId' | 'pair' | 'state' | 'curedAt'> & { readonly despite: string }

/** What cures is a clock on the board; the clock of a pair that is taken apart or glued anew goes. */
function cureOf(
  records: Records,
  { pieceId, pair, state, curedAt, despite }: Cured,
  who: Who,
  when: When,
): readonly Change[] {
  const id = `cure.${pieceId}.${pair.join('.')}`
  if (state !== 'glued' || curedAt === null) return records.clock.has(id) ? [remove('clock', id)] : []
  const begun = { date: when.date, time: timeOfMinute(when.minute) }
  const what = { stepId: null, techniqueId: null, what: 'curing' as const, about: `${pair[0]} + ${pair[1]}` }
  const times = { begun, ends: curedAt, despite, next: [] }
  return [put('clock', { id, pieceId, ...what, ...times, by: who.personId, at: when.at })]
}

export const joinPair = defineOp<'joinPair'>({
  kind: 'joinPair',
  roles: by.crew,
  needs,
  judge: (records, { joinId, pieceId, pair, state, adhesive, batchId, curedAt, despite }, who, when) => {
    const last = lastJoins(ofPiece(records.join, pieceId)).get(pairKey(pair))
    const fit = lastTries(ofPiece(records.pairTry, pieceId)).get(pairKey(pair))
    const isHeld = last !== undefined && last.state !== 'undone'
    return [
      ...judgeWriter(records, pieceId, who, when),
      ...judgePair(records, pieceId, pair),
      ...(state === 'undone'
        ? unless(isHeld, 'O', 'not-joined', { piece: pieceId })
        : unless(fit?.result === 'fit', 'O', 'no-fit', { piece: pieceId })),
      ...unless(state !== 'trial' || !isHeld, 'O', 'as-it-is', { piece: pieceId }),
      ...unless(state !== 'glued' || batchId !== null || adhesive.trim() !== '', 'O', 'no-adhesive', {
        piece: pieceId,
      }),
      ...unless(!records.join.has(joinId), 'R6', 'only-added', { record: joinId }),
      ...(batchId === null
        ? []
        : judgePutting(records, { pieceId, batchId, isSoakedIn: false, on: when.date }, despite)),
      ...(state !== 'glued' || curedAt === null ? [] : judgeCure(records, curedAt, despite, when)),
    ]
  },
  apply: (records, { joinId, id: _id, kind: _kind, despite, ...join }, who, when) => {
    const on = putOn(records, join.batchId, despite)
    // The bottle says what it is; what was typed beside it is not needed.
    const adhesive = on.jar ? on.jar.material : join.adhesive
    return [
      put('join', { id: joinId, ...join, adhesive, ...on, by: who.personId, at: when.at }),
      ...cureOf(records, { ...join, despite: on.despite ?? '' }, who, when),
    ]
  },
})
