// One case for each act on photographs: who may, what is good, what is refused and with which code.
import { put } from '#lib/words'
import { anEntry, aTurn, TOMORROW } from '../../kit/makers.ts'
import { aPhoto, photoCorrected, photoSaid } from '../../kit/makers-photos.ts'
import { type Case, seated } from './case-parts.ts'

const there = put('photo', aPhoto())
const later = put('assignment', aTurn({ pieceId: 'block', date: TOMORROW, id: `${TOMORROW}.morning.ana` }))

export const photoCases = {
  addPhoto: {
    who: 'ana',
    lab: [seated],
    good: photoSaid(),
    bad: [
      ['O unknown-piece', photoSaid({ pieceId: 'none' })],
      ['O not-yours', photoSaid({ pieceId: 'jacket1' }), [later]],
      ['O unknown-person', photoSaid({ takenBy: 'nobody' })],
      ['O unknown-entry', photoSaid({ entryId: 'e1' }), [put('entry', anEntry({ id: 'e1', pieceId: 'jacket1' }))]],
      ['O photo-there', photoSaid({ id: 'photo3' }), [there]],
      ['R6 only-added', photoSaid({ hash: '2b'.repeat(32) }), [there]],
    ],
  },
  correctPhoto: {
    who: 'ana',
    lab: [seated, there],
    good: photoCorrected({ view: 'ventral', withdrawn: true }),
    bad: [
      ['O unknown-photo', photoCorrected({ corrects: 'none' })],
      ['O unknown-photo', photoCorrected({ pieceId: 'jacket1' })],
      ['O not-yours', photoCorrected(), [put('photo', aPhoto({ by: 'pia' }))]],
      ['O unknown-person', photoCorrected({ takenBy: 'nobody' })],
      ['R6 corrected', photoCorrected(), [put('photo', aPhoto({ id: 'photo9', corrects: 'photo1' }))]],
      ['R6 only-added', photoCorrected({ id: 'photo1' })],
    ],
  },
} satisfies Record<string, Case>
