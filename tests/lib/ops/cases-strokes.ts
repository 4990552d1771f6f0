// One case for each act on an exposure map: who may, what is good, what is refused and with which code.
import { put } from '#lib/words'
import { aPhoto, aStroke } from '../../kit/makers-photos.ts'
import { type Case, seated } from './case-parts.ts'

const { id: strokeId, by: _by, at: _at, withdraws: _withdraws, ...stroke } = aStroke()
const drawn = put('stroke', aStroke())
const good = { strokeId, ...stroke }
const onPhoto = { ...good, photoHash: aPhoto().hash, view: null }
const wipe = { strokeId: 'stroke9', pieceId: 'skull', withdraws: strokeId }

export const strokeCases = {
  drawStroke: {
    who: 'ana',
    lab: [seated, put('photo', aPhoto({ id: 'p2', hash: '2b'.repeat(32) }))],
    good: { ...onPhoto, photoHash: '2b'.repeat(32) },
    bad: [
      ['O unknown-piece', { ...good, pieceId: 'none' }],
      ['O not-yours', { ...good, pieceId: 'jacket1' }],
      ['O one-ground', { ...onPhoto, view: 'dorsal' }],
      ['O one-ground', { ...good, view: null }],
      ['O unknown-photo', onPhoto],
      ['O unknown-photo', onPhoto, [put('photo', aPhoto({ withdrawn: true }))]],
      ['R6 only-added', good, [drawn]],
    ],
  },
  wipeStroke: {
    who: 'ana',
    lab: [seated, drawn],
    good: wipe,
    bad: [
      ['O unknown-stroke', { ...wipe, withdraws: 'none' }],
      ['O unknown-stroke', { ...wipe, pieceId: 'jacket1' }],
      ['O unknown-stroke', wipe, [put('stroke', aStroke({ id: 'stroke7', points: [], withdraws: strokeId }))]],
      ['O not-yours', wipe, [put('stroke', aStroke({ by: 'pia' }))]],
      ['R6 only-added', { ...wipe, strokeId }],
    ],
  },
} satisfies Record<string, Case>
