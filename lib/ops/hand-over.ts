// The signed-off step at the end: custody passes to collection, loan or exhibit, the dates the piece had are met, and it
// leaves the board for the archive with all that belongs to it.
import { missingAtHandOver } from '#lib/rules'
import { type Change, type Finding, put, type Records, withChanges } from '#lib/words'
import { rest } from './archive.ts'
import { by, defineOp, type When, type Who } from './op.ts'
import { must, sheetOf, unknown, unless } from './parts.ts'
import type { OpOf } from './shapes/index.ts'

/** What lies on the board the moment before it rests: released, its dates met. */
function released(records: Records, pieceId: string, when: When): readonly Change[] {
  const specimen = must(records.specimen.get(pieceId), 'a specimen')
  const dues = [...records.due.values()].filter((due) => due.pieceId === pieceId && due.state === 'accepted')
  return [
    put('specimen', { ...specimen, stage: 'released', stageSince: when.date }),
    ...dues.map((due) => put('due', { ...due, state: 'met' })),
  ]
}

const restOf = (op: OpOf<'handOver'>) => ({ id: op.id, kind: 'rest', pieceId: op.pieceId }) as const

function judge(records: Records, op: OpOf<'handOver'>, who: Who, when: When): readonly Finding[] {
  const { pieceId, custodyId, said } = op
  const missing = missingAtHandOver(records, pieceId, said)
  if (!records.specimen.has(pieceId)) return missing.length > 0 ? missing : [unknown('piece', pieceId)]
  const twice = unless(!records.custody.has(custodyId), 'R6', 'only-added', { record: custodyId })
  if (twice.length > 0) return twice
  // Nobody takes a piece out of somebody's hands: this a manager's reason does not open.
  const stays = rest.judge(withChanges(records, released(records, pieceId, when)), restOf(op), who, when)
  if (stays.length > 0) return stays
  if (missing.length === 0) return []
  if (op.reason.trim() === '') return missing
  return unless(who.role === 'manager' || who.role === 'system', 'O', 'hand-manager', { piece: pieceId })
}

export const handOver = defineOp<'handOver'>({
  kind: 'handOver',
  roles: by.staff,
  needs: (_records, { pieceId }) => sheetOf(pieceId),
  judge,
  apply: (records, op, who, when) => {
    const { pieceId, custodyId, said, reason } = op
    const missing = missingAtHandOver(records, pieceId, said).map(({ code }) => code)
    const custody = put('custody', {
      ...said,
      id: custodyId,
      pieceId,
      by: who.personId,
      at: when.at,
      on: when.date,
      missing: [...new Set(missing)],
      reason: missing.length === 0 ? '' : reason,
    })
    const after = withChanges(records, [custody, ...released(records, pieceId, when)])
    return [custody, ...rest.apply(after, restOf(op), who, when)]
  },
})
