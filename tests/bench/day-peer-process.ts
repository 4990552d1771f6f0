// The peer of the day bench in a process of its own: takes one day, sends what HiGHS says of it, and may run out of
// memory without taking the bench with it.
import { problemSchema } from '#lib/lineup'
import { solveByPeer } from '../lib/lineup/peer.ts'
import type { PeerQuestion, PeerWord } from './day-peer.ts'

process.once('message', async (question: PeerQuestion) => {
  let word: PeerWord
  try {
    const answer = await solveByPeer(problemSchema.parse(question.problem), { seconds: question.seconds })
    word = { kind: 'answered', answer }
  } catch (error) {
    word = { kind: 'failed', why: error instanceof Error ? (error.message.split('\n')[0] ?? '') : String(error) }
  }
  process.send?.(word, () => process.exit(0))
})
