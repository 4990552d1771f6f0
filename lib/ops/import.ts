// The backlog comes straight into the archive, where it is found and brought to the board when wanted. A jacket that is
// there already stays as it is, so that the same file may come in again; one that was worked on since is not taken back.
import { pieceOf } from '#lib/rules'
import { type Change, put, type Resting, remove } from '#lib/words'
import { by, defineOp } from './op.ts'
import { unless } from './parts.ts'

export const importRows = defineOp<'importRows'>({
  kind: 'importRows',
  roles: by.staff,
  needs: (_records, { jackets }) => jackets.map(({ id }) => ({ home: 'archive', id, gateOnly: true })),
  judge: (_records, { jackets }) =>
    unless(
      jackets.every((jacket) => jacket.state === 'sealed' && jacket.placeId === null && !jacket.isTied),
      'O',
      'malformed',
    ),
  apply: (records, { importId, jackets }, _who, when) => {
    const changes = new Map<string, Change>()
    for (const jacket of jackets) {
      if (records.resting.has(jacket.id) || pieceOf(records, jacket.id)) continue
      const resting: Resting = {
        id: jacket.id,
        jacket,
        specimen: null,
        steps: [],
        dues: [],
        escalations: [],
        questions: [],
        watches: [],
        since: when.date,
        importId,
      }
      changes.set(jacket.id, put('resting', resting))
    }
    return [...changes.values()]
  },
})

export const undoImport = defineOp<'undoImport'>({
  kind: 'undoImport',
  roles: by.staff,
  needs: (_records, { pieceIds }) => pieceIds.map((id) => ({ home: 'archive', id, gateOnly: true })),
  judge: () => [],
  apply: (records, { importId, pieceIds }) =>
    [...new Set(pieceIds)].flatMap((id) =>
      records.resting.get(id)?.importId === importId ? [remove('resting', id)] : [],
    ),
})
