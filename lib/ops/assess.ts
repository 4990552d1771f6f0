// A piece is judged, and judged again when opening surprises. The judgement is a fact and is never refused for what it
// does to a posted day: turns that are no longer lawful come off the day, and whoever sat there is told.
import { assignmentsOn, judgeKeptDays, pieceOf } from '#lib/rules'
import {
  type Change,
  type Finding,
  finding,
  type Jacket,
  put,
  type Records,
  remove,
  type Specimen,
  withChanges,
} from '#lib/words'
import { by, defineOp, type When } from './op.ts'
import { inUseNow, must, sheetForGate, unknown, unless } from './parts.ts'
import { judgeCeiling } from './pieces.ts'
import { reseatsFor } from './reseats.ts'
import type { OpOf } from './shapes/index.ts'

type Judged = OpOf<'assess'>['assessment']

/** The assessment that counts for a piece; its Sheet must be loaded. */
function assessmentOf(records: Records, pieceId: string): string | null {
  // Each names the one before, so the last is the one that nobody names.
  const own = [...records.assessment.values()].filter((one) => one.pieceId === pieceId)
  const named = new Set(own.map((one) => one.former))
  return own.filter((one) => !named.has(one.id)).toSorted((a, b) => (a.id < b.id ? 1 : -1))[0]?.id ?? null
}

/** The piece as it is known after the judgement. */
function known(
  records: Records,
  judged: Judged,
  who: { readonly personId: Specimen['id'] | string },
  on: string,
): Change {
  const specimen = records.specimen.get(judged.pieceId)
  const { rockHardness, contrast, soundness, breakage, toExposeCm2 } = judged
  const { purpose, side, stopLine, forceCeiling, taxon, element } = judged
  if (specimen) {
    const ratings = {
      rockHardness,
      contrast,
      soundness,
      breakage,
      toExposeCm2,
      on,
      by: who.personId,
    } as Specimen['ratings']
    return put('specimen', { ...specimen, ratings, purpose, side, stopLine, forceCeiling, taxon, element })
  }
  const jacket: Readonly<Jacket> = must(records.jacket.get(judged.pieceId), 'a piece')
  const guess = [element, taxon].filter((one) => one !== '').join(', ')
  return put('jacket', { ...jacket, rockHardness, contents: guess === '' ? jacket.contents : guess })
}

/** Ids of turns from today on that the changes make unlawful, with those that fall with them. */
function fallen(records: Records, changes: readonly Change[], when: When): ReadonlySet<string> {
  const ids = new Set<string>()
  // Each round takes off at least one turn, so there are no more rounds than turns.
  for (;;) {
    const off = [...ids].map((id) => remove('assignment', id))
    const found = judgeKeptDays(records, [...changes, ...off], when.date).flatMap(({ ids: { assignment } }) =>
      assignment !== undefined && !ids.has(assignment) ? [assignment] : [],
    )
    if (found.length === 0) return ids
    for (const id of found) ids.add(id)
  }
}

export const assess = defineOp<'assess'>({
  kind: 'assess',
  roles: by.staff,
  keepsDays: true,
  needs: (_records, { assessment: { pieceId } }) => sheetForGate(pieceId),
  judge: (records, { assessment }, who, when) => {
    const { id, pieceId, forceCeiling } = assessment
    if (!pieceOf(records, pieceId)) return [unknown('piece', pieceId)]
    const findings: readonly Finding[] = [
      ...unless(!records.assessment.has(id), 'R6', 'only-added', { record: id }),
      ...judgeCeiling(records, forceCeiling),
    ]
    if (findings.length > 0) return findings
    const falls = fallen(records, [known(records, assessment, who, when.date)], when)
    const begun = inUseNow(records, falls)
    return begun ? [finding('O', 'assess-at-work', { piece: begun.pieceId, person: begun.personId })] : []
  },
  apply: (records, { assessment }, who, when) => {
    const now = known(records, assessment, who, when.date)
    const falls = fallen(records, [now], when)
    const dates = new Set([...falls].map((id) => must(records.assignment.get(id), 'a turn').date))
    const told = [...dates].flatMap((date) => {
      const stays = assignmentsOn(records, date).filter((one) => !falls.has(one.id))
      return reseatsFor(records, date, new Map(stays.map((one) => [one.id, one])), who, when)
    })
    const stamp = { by: who.personId, at: when.at, on: when.date, former: assessmentOf(records, assessment.pieceId) }
    const off = [...falls].map((id) => remove('assignment', id))
    return [put('assessment', { ...assessment, ...stamp }), now, ...off, ...told]
  },
})

/** What an assessment would do to posted days: the turns that come off them. For a look ahead. */
export function turnsThatFall(records: Records, judged: Judged, when: When): readonly string[] {
  if (!pieceOf(records, judged.pieceId)) return []
  return [...fallen(records, [known(records, judged, { personId: '' }, when.date)], when)]
}

/** The records as the judgement would leave the piece, for looking ahead at dates. */
export function asJudged(records: Records, judged: Judged, today: string): Records {
  return pieceOf(records, judged.pieceId)
    ? withChanges(records, [known(records, judged, { personId: '' }, today)])
    : records
}
