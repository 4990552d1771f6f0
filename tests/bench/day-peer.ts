/**
 * Asks the peer of `bench -- day`, HiGHS on a day written out as equations, in a process of its own: a large day fills
 * its memory, and that is an answer like any other.
 */
import { fork } from 'node:child_process'
import { join } from 'node:path'
import type { Problem } from '#lib/lineup'
import type { PeerAnswer } from '../lib/lineup/peer.ts'

export interface PeerQuestion {
  readonly problem: Problem
  readonly seconds: number
}

/** What came of it; `why` is for people. */
export type PeerWord =
  | { readonly kind: 'answered'; readonly answer: PeerAnswer }
  | { readonly kind: 'failed'; readonly why: string }

/** Beyond its seconds, for writing the equations out and reading them in. */
const WRITING_SECONDS = 120
const HEAP_MB = 6000

export function askPeer(question: PeerQuestion): Promise<PeerWord> {
  const peer = fork(join(import.meta.dirname, 'day-peer-process.ts'), {
    execArgv: ['--import', 'tsx', `--max-old-space-size=${HEAP_MB}`],
    // What an engine says as it dies is no part of the table.
    stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
  })
  return new Promise((resolve) => {
    const seconds = question.seconds + WRITING_SECONDS
    const late = setTimeout(() => {
      resolve({ kind: 'failed', why: `no word within ${seconds} s, its equations written out and all` })
      peer.kill('SIGKILL')
    }, 1000 * seconds)
    peer.once('message', (word: PeerWord) => resolve(word))
    peer.once('error', (error) => resolve({ kind: 'failed', why: error.message }))
    peer.once('exit', () => {
      clearTimeout(late)
      resolve({ kind: 'failed', why: `its equations need more than ${HEAP_MB} MB` })
    })
    peer.send(question)
  })
}
