// Who may look at a photograph, on stored Sheets: it hangs on a record of the piece that the asker may read.
import { expect, test } from 'vitest'
import { PersonId, put, Role, withChanges } from '#lib/words'
import type { Identity } from '../../../server/door/index.ts'
import { lookingIn } from '../../../server/photos/looking.ts'
import { memoryStore } from '../../../server/store/memory.ts'
import { seed, seedChanges } from '../../kit/fake-lab.ts'
import { aSmallLab } from '../../kit/makers.ts'
import { aPhoto } from '../../kit/makers-photos.ts'

const [shown, gone, corrected] = ['1a', '2b', '3c'].map((two) => two.repeat(32)) as [string, string, string]
const photos = [
  aPhoto({ id: 'p1', hash: shown }),
  aPhoto({ id: 'p2', hash: gone }),
  aPhoto({ id: 'p3', hash: gone, corrects: 'p2', withdrawn: true }),
  aPhoto({ id: 'p4', hash: corrected, withdrawn: true }),
  aPhoto({ id: 'p5', hash: corrected, corrects: 'p4' }),
].map((photo) => put('photo', photo))

test.each([
  ['on a Sheet that nobody has open', []],
  ['on an open Sheet', photos],
])(
  '%s, those who read it look, a withdrawn one is for the staff, and other pieces and files are nobody’s',
  async (_, held) => {
    const store = memoryStore()
    await seed(store, [...seedChanges(), ...photos])
    const records = withChanges(aSmallLab(), held)
    // The house is asked for its records and its name alone.
    const house = { store, labId: 'fake', lab: { records: () => records } } as unknown as Parameters<
      typeof lookingIn
    >[0]
    const mayLook = lookingIn(house)
    const seen = (hash: string, pieceId = 'skull') =>
      Promise.all(
        Role.options.map(async (role) => {
          const who: Identity =
            role === 'wall'
              ? { personId: null, name: '', role }
              : { personId: PersonId.parse('vera'), name: 'Vera', role }
          return (await mayLook(who, pieceId, hash)) ? role : ''
        }),
      ).then((roles) => roles.filter(Boolean).join(' '))
    expect(await seen(shown)).toBe('manager preparator volunteer researcher')
    expect(await seen(corrected)).toBe('manager preparator volunteer researcher')
    expect(await seen(gone)).toBe('manager preparator')
    for (const pieceId of ['jaw', '', '../board', 'skull/../jaw']) expect(await seen(shown, pieceId)).toBe('')
    expect(await seen('4d'.repeat(32))).toBe('')
  },
)
