// A piece goes to rest in the archive with all that belongs to it on the board, and comes back whole.
import { pieceOf } from '#lib/rules'
import {
  type Change,
  type Custody,
  type Finding,
  finding,
  type Kind,
  put,
  type Records,
  type Resting,
  remove,
  type Specimen,
} from '#lib/words'
import { judgeNoClock } from './clocks.ts'
import { custodyOf, foundWords } from './found.ts'
import { by, defineOp, type When, type Who } from './op.ts'
import { inUse, must, sheetForGate, unknown, unless } from './parts.ts'
import { judgeNumbers } from './pieces.ts'

const bundled = ['step', 'due', 'escalation', 'question', 'watch'] as const
type Bundled = (typeof bundled)[number]

/** All records of one kind that belong to a piece. */
function ofPiece<K extends Bundled>(records: Records, kind: K, pieceId: string) {
  return [...records[kind].values()].filter((record) => record.pieceId === pieceId)
}

/** The archive's own bounds, kept here so that nothing is cut off silently. */
const bundleMax: Readonly<Record<Bundled, number>> = { step: 400, due: 100, escalation: 100, question: 200, watch: 100 }

export const rest = defineOp<'rest'>({
  kind: 'rest',
  roles: by.staff,
  // What stands on its Sheet goes along as words to be found by.
  needs: (_records, { pieceId }) => sheetForGate(pieceId),
  judge: (records, { pieceId }, _who, when) => {
    const piece = pieceOf(records, pieceId)
    if (!piece) return [unknown('piece', pieceId)]
    // Even finished turns of today stay on the day, which is posted again with them: their piece must be there.
    const today = [...records.assignment.values()].find((one) => one.pieceId === pieceId && one.date >= when.date)
    const held = [...records.hold.values()].find((one) => one.pieceId === pieceId && one.date >= when.date)
    const due = ofPiece(records, 'due', pieceId).find((one) => one.state === 'accepted')
    const full = bundled.find((kind) => ofPiece(records, kind, pieceId).length > bundleMax[kind])
    const turn = today ?? held
    const findings: readonly Finding[] = [
      ...inUse(records, pieceId, when.date),
      ...(turn ? [finding('O', 'piece-in-use', { piece: pieceId, person: turn.personId, date: turn.date })] : []),
      ...(due ? [finding('O', 'has-due', { piece: pieceId, due: due.id, date: due.date })] : []),
      ...judgeNoClock(records, pieceId),
      ...unless(!piece.isTied, 'O', 'piece-tied', { piece: pieceId, at: piece.placeId ?? '' }),
      ...unless(full === undefined, 'O', 'too-many', { piece: pieceId }),
    ]
    return findings.slice(0, 1)
  },
  apply: (records, { pieceId }, _who, when) => {
    const jacket = records.jacket.get(pieceId) ?? null
    const specimen = records.specimen.get(pieceId) ?? null
    const piece = must(specimen ?? jacket, 'a piece')
    const custody = custodyOf(records, pieceId)
    const resting: Resting = {
      id: piece.id,
      // It leaves the room: only the shelf stays true.
      jacket: jacket && { ...jacket, placeId: null },
      specimen: specimen && { ...specimen, placeId: null },
      steps: ofPiece(records, 'step', pieceId),
      dues: ofPiece(records, 'due', pieceId),
      escalations: ofPiece(records, 'escalation', pieceId),
      questions: ofPiece(records, 'question', pieceId),
      watches: ofPiece(records, 'watch', pieceId),
      since: when.date,
      ...(custody && custody.to !== 'lab' ? { custody } : {}),
      found: foundWords(records, pieceId),
    }
    const gone = (kind: Kind, ids: readonly { readonly id: string }[]) => ids.map(({ id }) => remove(kind, id))
    return [
      put('resting', resting),
      ...gone(specimen ? 'specimen' : 'jacket', [piece]),
      ...bundled.flatMap((kind) => gone(kind, ofPiece(records, kind, pieceId))),
    ]
  },
  inverse: (_records, { pieceId }, id) => ({ id, kind: 'bringBack', pieceId }),
})

/** Nothing that is here is released: it stands housed, and may be moved on. */
const cameBack = (specimen: Readonly<Specimen>, when: When): Specimen => ({
  ...specimen,
  stage: 'housed',
  stageSince: when.date,
})

/** The change of hands back into the lab, on the Sheet after the one that took it away. */
const takenBack = (away: Readonly<Custody>, id: string, who: Who, when: When): Custody => ({
  ...away,
  id,
  by: who.personId,
  at: when.at,
  on: when.date,
  to: 'lab',
  receivedBy: '',
  until: null,
  condition: '',
  missing: [],
  reason: '',
})

export const bringBack = defineOp<'bringBack'>({
  kind: 'bringBack',
  roles: by.staff,
  needs: (_records, { pieceId }) => [{ home: 'archive', id: pieceId }],
  judge: (records, { pieceId }) => {
    const resting = records.resting.get(pieceId)
    const piece = resting && (resting.specimen ?? resting.jacket)
    if (!resting || !piece) return [unknown('piece', pieceId)]
    return [
      ...unless(!pieceOf(records, pieceId), 'O', 'id-taken', { piece: pieceId }),
      ...judgeNumbers(records, piece),
      ...unless(
        resting.steps.every((step) => !records.step.has(step.id)),
        'O',
        'id-taken',
        { piece: pieceId },
      ),
    ]
  },
  apply: (records, { id, pieceId }, who, when) => {
    const { custody, jacket, specimen, steps, dues, escalations, questions, watches } = must(
      records.resting.get(pieceId),
      'a resting piece',
    )
    const changes: readonly Change[] = [
      ...(jacket ? [put('jacket', jacket)] : []),
      ...(specimen ? [put('specimen', custody ? cameBack(specimen, when) : specimen)] : []),
      ...(custody ? [put('custody', takenBack(custody, id, who, when))] : []),
      ...steps.map((record) => put('step', record)),
      ...dues.map((record) => put('due', record)),
      ...escalations.map((record) => put('escalation', record)),
      ...questions.map((record) => put('question', record)),
      ...watches.map((record) => put('watch', record)),
    ]
    return [remove('resting', pieceId), ...changes]
  },
  // What was handed over does not come to be handed over again by lying at rest, nor what an import brought to be of it.
  inverse: (records, { pieceId }, id) => {
    const resting = records.resting.get(pieceId)
    return resting?.custody || resting?.importId ? null : { id, kind: 'rest', pieceId }
  },
})
