// Dates for pieces: asked for, accepted, moved, ended.
import { addDays, daysBetween } from '#lib/base'
import { type Due, type Finding, finding, put, RecordId, type Records, remove } from '#lib/words'
import { knownPiece } from './care.ts'
import { by, defineOp } from './op.ts'
import { must, unknown, unless } from './parts.ts'

const isManager = (role: string) => role === 'manager' || role === 'system'

export const askDue = defineOp<'askDue'>({
  kind: 'askDue',
  roles: ['manager', 'preparator', 'researcher'],
  judge: (records, { dueId, pieceId, date }, _who, when) => [
    ...unless(!records.due.has(dueId), 'O', 'id-taken', { due: dueId }),
    ...knownPiece(records, pieceId),
    ...unless(daysBetween(when.date, date) >= 0, 'O', 'past', { date }),
  ],
  apply: (_records, { dueId, pieceId, date, dueKind, isHard, note }, who) => [
    put('due', {
      id: dueId,
      pieceId,
      date,
      kind: dueKind,
      isHard,
      state: isManager(who.role) ? 'accepted' : 'asked',
      by: who.personId,
      note,
    }),
  ],
})

function knownDue(records: Records, dueId: string, isRight: (due: Readonly<Due>) => boolean): readonly Finding[] {
  const due = records.due.get(dueId)
  if (!due) return [unknown('due', dueId)]
  return isRight(due) ? [] : [finding('O', `due-${due.state}`, { due: dueId, piece: due.pieceId })]
}

const isLive = (due: Readonly<Due>) => due.state === 'asked' || due.state === 'accepted'

/** The first answer, or a second thought: what was declined, met or dropped may be accepted again. */
export const answerDue = defineOp<'answerDue'>({
  kind: 'answerDue',
  roles: by.manager,
  judge: (records, { dueId, accept }) =>
    knownDue(records, dueId, (due) => (accept ? due.state !== 'accepted' : isLive(due))),
  apply: (records, { dueId, accept }) => [
    put('due', { ...must(records.due.get(dueId), 'a date'), state: accept ? 'accepted' : 'declined' }),
  ],
  inverse: (records, { dueId }, id) => {
    const state = records.due.get(dueId)?.state
    if (state === 'met' || state === 'dropped') return { id, kind: 'endDue', dueId, state }
    if (state === 'accepted' || state === 'declined') {
      return { id, kind: 'answerDue', dueId, accept: state === 'accepted' }
    }
    return null
  },
})

export const moveDue = defineOp<'moveDue'>({
  kind: 'moveDue',
  roles: by.manager,
  judge: (records, { dueId }) => knownDue(records, dueId, isLive),
  apply: (records, { dueId, date, isHard }) => [
    put('due', { ...must(records.due.get(dueId), 'a date'), date, isHard }),
  ],
  inverse: (records, { dueId }, id) => {
    const due = records.due.get(dueId)
    return due ? { id, kind: 'moveDue', dueId, date: due.date, isHard: due.isHard } : null
  },
})

export const endDue = defineOp<'endDue'>({
  kind: 'endDue',
  roles: by.manager,
  judge: (records, { dueId }) => knownDue(records, dueId, isLive),
  apply: (records, { dueId, state }) => [put('due', { ...must(records.due.get(dueId), 'a date'), state })],
  inverse: (records, { dueId }, id) =>
    records.due.get(dueId)?.state === 'accepted' ? { id, kind: 'answerDue', dueId, accept: true } : null,
})

/** Days for which last chances stay to be compared with. */
const OUTLOOKS_KEPT = 63

/** The server's weekly note of chances. Dates that ended meanwhile are passed over, old notes leave. */
export const noteOutlooks = defineOp<'noteOutlooks'>({
  kind: 'noteOutlooks',
  roles: [],
  judge: (_records, { on }, _who, when) => unless(on <= when.date, 'O', 'not-yet', { date: on }),
  apply: (records, { on, outlooks }) => [
    ...outlooks.flatMap((outlook) => {
      const due = records.due.get(outlook.dueId)
      return due && isLive(due)
        ? [put('outlook', { ...outlook, id: RecordId.parse(`${outlook.dueId}.${on}`), on })]
        : []
    }),
    ...[...records.outlook.values()]
      .filter((one) => one.on < addDays(on, -OUTLOOKS_KEPT) || !records.due.has(one.dueId))
      .map((one) => remove('outlook', one.id)),
  ],
})
