// Pieces that turn out to belong together: one animal in two jackets, one jacket split into specimens, part and
// counterpart. Nothing is renumbered. A relation ends by a later record that names it; both stay.
import { pieceOf } from '#lib/rules'
import { finding, put, type Records } from '#lib/words'
import { by, defineOp, type Need } from './op.ts'
import { must, unknown, unless } from './parts.ts'

/** Pieces that are not on the board are asked for in the archive. */
const atRest = (records: Records, pieceIds: readonly string[]): readonly Need[] =>
  pieceIds.filter((id) => !pieceOf(records, id)).map((id) => ({ home: 'archive', id }) as const)

const sameAs = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === b.length && a.every((id) => b.includes(id))

/** True when a later record has ended the relation. */
function hasEnded(records: Records, relationId: string): boolean {
  for (const one of records.relation.values()) if (one.ends === relationId) return true
  return false
}

export const relate = defineOp<'relate'>({
  kind: 'relate',
  roles: by.staff,
  needs: (records, { relation: { pieceIds } }) => atRest(records, pieceIds),
  judge: (records, { relation }) => {
    const { id, what, pieceIds } = relation
    const missing = pieceIds.find((one) => !pieceOf(records, one) && !records.resting.has(one))
    if (missing !== undefined) return [unknown('piece', missing)]
    const standing = [...records.relation.values()].find(
      (one) => one.ends === null && one.what === what && sameAs(one.pieceIds, pieceIds) && !hasEnded(records, one.id),
    )
    return [
      ...unless(!records.relation.has(id), 'R6', 'only-added', { record: id }),
      ...unless(new Set(pieceIds).size === pieceIds.length, 'O', 'related-to-itself', { piece: pieceIds[0] ?? '' }),
      ...unless(what !== 'counterpart' || pieceIds.length === 2, 'O', 'counterpart-of-two', {}),
      ...(standing ? [finding('O', 'related-already', { piece: pieceIds[0] ?? '', other: pieceIds[1] ?? '' })] : []),
    ]
  },
  apply: (_records, { relation }, who, when) => [
    put('relation', { ...relation, by: who.personId, at: when.at, ends: null }),
  ],
})

export const endRelation = defineOp<'endRelation'>({
  kind: 'endRelation',
  roles: by.staff,
  judge: (records, { relationId, ends }) => {
    const old = records.relation.get(ends)
    if (!old || old.ends !== null) return [unknown('relation', ends)]
    return [
      ...unless(!hasEnded(records, ends), 'O', 'relation-ended', { piece: old.pieceIds[0] ?? '' }),
      ...unless(!records.relation.has(relationId), 'R6', 'only-added', { record: relationId }),
    ]
  },
  apply: (records, { relationId, ends, note }, who, when) => {
    const old = must(records.relation.get(ends), 'a relation')
    return [put('relation', { ...old, id: relationId, note, by: who.personId, at: when.at, ends })]
  },
})
