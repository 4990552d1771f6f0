// One case for each act at the joining tray: who may, what is good, what is refused and with which code.
import { put } from '#lib/words'
import { aFragment, aTurn, NOW } from '../../kit/makers.ts'
import { type Case, seated } from './case-parts.ts'

const { pieceId, personId: by } = aTurn()
const pair: [number, number] = [1, 2]
const fragment = aFragment({ number: 3 })
const { pieceId: _pieceId, by: _by, at: _at, ...measured } = fragment
const tray = [put('fragment', aFragment({ number: 1 })), put('fragment', aFragment({ number: 2 })), seated]
const tried = (result: 'fit' | 'no fit', id = 'try1') => put('pairTry', { id, pieceId, pair, result, by, at: NOW })
const joined = (state: 'trial' | 'glued' | 'undone') =>
  put('join', { id: 'join1', pieceId, pair, state, adhesive: '', batchId: null, curedAt: null, by, at: NOW })
const glue = {
  joinId: 'join9',
  pieceId: 'skull',
  pair,
  state: 'glued',
  adhesive: 'B-72 40 %',
  batchId: null,
  curedAt: null,
}

export const joinCases = {
  measureFragments: {
    who: 'ana',
    lab: tray,
    good: { pieceId: 'skull', fragments: [measured], areNew: true },
    bad: [
      ['O unknown-piece', { pieceId: 'none', fragments: [measured], areNew: true }],
      ['O fragment-taken', { pieceId: 'skull', fragments: [{ ...measured, number: 1 }], areNew: true }],
      ['O fragment-taken', { pieceId: 'skull', fragments: [measured, { ...measured, id: 'twice' }], areNew: false }],
      ['R6 only-added', { pieceId: 'skull', fragments: [{ ...measured, id: 'f1' }], areNew: true }],
    ],
  },
  tryPair: {
    who: 'ana',
    lab: tray,
    good: { tryId: 'try9', pieceId: 'skull', pair, result: 'no fit' },
    bad: [
      ['O unknown-fragment', { tryId: 'try9', pieceId: 'skull', pair: [1, 7], result: 'fit' }],
      ['O pair-order', { tryId: 'try9', pieceId: 'skull', pair: [2, 1], result: 'fit' }],
      ['O pair-order', { tryId: 'try9', pieceId: 'skull', pair: [2, 2], result: 'fit' }],
      ['O as-it-is', { tryId: 'try9', pieceId: 'skull', pair, result: 'fit' }, [tried('fit')]],
      ['R6 only-added', { tryId: 'try1', pieceId: 'skull', pair, result: 'no fit' }, [tried('fit')]],
    ],
  },
  joinPair: {
    who: 'ana',
    lab: [...tray, tried('fit')],
    good: glue,
    bad: [
      ['O no-fit', glue, [tried('no fit', 'try2')]],
      ['O no-adhesive', { ...glue, adhesive: ' ' }],
      ['O not-joined', { ...glue, state: 'undone' }],
      ['O not-joined', { ...glue, state: 'undone' }, [joined('undone')]],
      ['O as-it-is', { ...glue, state: 'trial' }, [joined('glued')]],
      ['O unknown-fragment', { ...glue, pair: [1, 7] }],
      ['R6 only-added', { ...glue, joinId: 'join1' }, [joined('trial')]],
    ],
  },
} satisfies Record<string, Case>
