// How a specimen is treated: its force ceiling, the escalations above it, its stage. Each decision also goes into the
// treatment record, where it stays.
import { forceOf, type Piece, pieceOf, techniqueOf } from '#lib/rules'
import { type Change, type Entry, type Finding, finding, put, type Records } from '#lib/words'
import { by, defineOp, type When, type Who } from './op.ts'
import { inUse, must, sheetForGate, unknown, unless } from './parts.ts'
import { judgeCeiling } from './pieces.ts'

type Written = Pick<Entry, 'id' | 'pieceId' | 'kind' | 'techniqueId' | 'text' | 'detail'>

/** A new entry of the treatment record. */
export function entryOf(written: Written, who: Who, when: When, corrects: string | null = null): Change {
  return put('entry', { ...written, by: who.personId, at: when.at, corrects })
}

/** The entry must be new: what is recorded is only added to. */
export function judgeNewEntry(records: Records, entryId: string): readonly Finding[] {
  return unless(!records.entry.has(entryId), 'R6', 'only-added', { record: entryId })
}

const nameOf = (records: Records, techniqueId: string) => techniqueOf(records, techniqueId)?.name ?? techniqueId

export const setCeiling = defineOp<'setCeiling'>({
  kind: 'setCeiling',
  roles: by.staff,
  keepsDays: true,
  needs: (_records, { pieceId }) => sheetForGate(pieceId),
  judge: (records, { pieceId, techniqueId, entryId }) => {
    const specimen = records.specimen.get(pieceId)
    if (!specimen) return [unknown('piece', pieceId)]
    return [
      ...judgeCeiling(records, techniqueId),
      ...unless(specimen.forceCeiling !== techniqueId, 'O', 'as-it-is', { technique: techniqueId }),
      ...judgeNewEntry(records, entryId),
    ]
  },
  apply: (records, { pieceId, techniqueId, reason, entryId }, who, when) => {
    const specimen = must(records.specimen.get(pieceId), 'a specimen')
    const text = `${nameOf(records, specimen.forceCeiling)} → ${nameOf(records, techniqueId)}\n${reason}`
    return [
      put('specimen', { ...specimen, forceCeiling: techniqueId }),
      entryOf({ id: entryId, pieceId, kind: 'decision', techniqueId, text }, who, when),
    ]
  },
})

export const escalate = defineOp<'escalate'>({
  kind: 'escalate',
  roles: by.staff,
  needs: (_records, { pieceId }) => sheetForGate(pieceId),
  judge: (records, { escalationId, pieceId, techniqueId, entryId }) => {
    const specimen = records.specimen.get(pieceId)
    if (!specimen) return [unknown('piece', pieceId)]
    const force = forceOf(records, techniqueId)
    const ceiling = forceOf(records, specimen.forceCeiling) ?? 0
    return [
      ...unless(!records.escalation.has(escalationId), 'R6', 'only-added', { record: escalationId }),
      ...judgeCeiling(records, techniqueId),
      ...unless(force === null || force > ceiling, 'O', 'not-above', { technique: techniqueId, piece: pieceId }),
      ...judgeNewEntry(records, entryId),
    ]
  },
  apply: (_records, { escalationId, pieceId, techniqueId, testPatch, reason, entryId }, who, when) => [
    put('escalation', {
      id: escalationId,
      pieceId,
      techniqueId,
      testPatch,
      reason,
      by: who.personId,
      at: when.at,
      endedAt: null,
    }),
    entryOf({ id: entryId, pieceId, kind: 'test patch', techniqueId, text: `${testPatch}\n${reason}` }, who, when),
  ],
})

export const endEscalation = defineOp<'endEscalation'>({
  kind: 'endEscalation',
  roles: by.staff,
  keepsDays: true,
  judge: (records, { escalationId }) => {
    const escalation = records.escalation.get(escalationId)
    if (!escalation) return [unknown('escalation', escalationId)]
    return unless(escalation.endedAt === null, 'O', 'ended', { piece: escalation.pieceId })
  },
  apply: (records, { escalationId }, _who, when) => [
    put('escalation', { ...must(records.escalation.get(escalationId), 'an escalation'), endedAt: when.at }),
  ],
})

export const moveStage = defineOp<'moveStage'>({
  kind: 'moveStage',
  roles: by.staff,
  needs: (_records, { pieceId }) => sheetForGate(pieceId),
  judge: (records, { pieceId, stage, entryId }, _who, when) => {
    const specimen = records.specimen.get(pieceId)
    if (!specimen) return [unknown('piece', pieceId)]
    return [
      ...unless(specimen.stage !== stage, 'O', 'as-it-is', { piece: pieceId }),
      ...(stage === 'released' ? inUse(records, pieceId, when.date) : []),
      ...judgeNewEntry(records, entryId),
    ]
  },
  apply: (records, { pieceId, stage, note, entryId }, who, when) => {
    const specimen = must(records.specimen.get(pieceId), 'a specimen')
    const moved = `${specimen.stage} → ${stage}`
    const text = note === '' ? moved : `${moved}\n${note}`.slice(0, 8000)
    return [
      put('specimen', { ...specimen, stage, stageSince: when.date }),
      entryOf({ id: entryId, pieceId, kind: 'stage', techniqueId: null, text }, who, when),
    ]
  },
  // The record of the move stays and a second entry takes it back: records are only added to.
  inverse: (records, { pieceId }, id) => {
    const specimen = records.specimen.get(pieceId)
    return specimen ? { id, kind: 'moveStage', pieceId, stage: specimen.stage, note: '', entryId: id } : null
  },
})

/** The piece of a record act, or why not. */
export function knownPiece(records: Records, pieceId: string): readonly Finding[] {
  const piece: Piece | undefined = pieceOf(records, pieceId)
  return piece ? [] : [finding('O', 'unknown-piece', { piece: pieceId })]
}
