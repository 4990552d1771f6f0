// Following a piece, and questions on it with their answers.
import { finding, put, remove } from '#lib/words'
import { knownPiece } from './care.ts'
import { by, defineOp } from './op.ts'
import { must, unknown, unless } from './parts.ts'

const watchId = (pieceId: string, personId: string) => `${pieceId}.${personId}`

export const watch = defineOp<'watch'>({
  kind: 'watch',
  roles: by.everybody,
  judge: (records, { pieceId }, who) => [
    ...knownPiece(records, pieceId),
    ...unless(!records.watch.has(watchId(pieceId, who.personId)), 'O', 'as-it-is', { piece: pieceId }),
  ],
  apply: (_records, { pieceId }, who) => [
    put('watch', { id: watchId(pieceId, who.personId), pieceId, personId: who.personId }),
  ],
  inverse: (_records, { pieceId }, id) => ({ id, kind: 'unwatch', pieceId }),
})

export const unwatch = defineOp<'unwatch'>({
  kind: 'unwatch',
  roles: by.everybody,
  judge: (records, { pieceId }, who) =>
    unless(records.watch.has(watchId(pieceId, who.personId)), 'O', 'as-it-is', { piece: pieceId }),
  apply: (_records, { pieceId }, who) => [remove('watch', watchId(pieceId, who.personId))],
  inverse: (_records, { pieceId }, id) => ({ id, kind: 'watch', pieceId }),
})

export const askQuestion = defineOp<'askQuestion'>({
  kind: 'askQuestion',
  roles: by.everybody,
  judge: (records, { questionId, pieceId }) => [
    ...unless(!records.question.has(questionId), 'O', 'id-taken', { question: questionId }),
    ...knownPiece(records, pieceId),
  ],
  apply: (_records, { questionId, pieceId, text }, who, when) => [
    put('question', { id: questionId, pieceId, by: who.personId, at: when.at, text, answer: null }),
  ],
})

export const answerQuestion = defineOp<'answerQuestion'>({
  kind: 'answerQuestion',
  roles: by.everybody,
  judge: (records, { questionId }) => {
    const question = records.question.get(questionId)
    if (!question) return [unknown('question', questionId)]
    const { answer } = question
    return answer ? [finding('R7', 'answered', { question: questionId, person: answer.by, since: answer.at })] : []
  },
  apply: (records, { questionId, text }, who, when) => {
    const question = must(records.question.get(questionId), 'a question')
    return [put('question', { ...question, answer: { by: who.personId, at: when.at, text } })]
  },
})
