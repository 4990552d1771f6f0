// Private data that was taken out is nowhere any more: not in the records, not in a history, not in the log as stored.
import { describe, expect, it } from 'vitest'
import { forgetful } from '../../server/forgetting.ts'
import { wholeHomes } from '../../server/held-records.ts'
import { labOps } from '../../server/lab-ops.ts'
import { memoryStore } from '../../server/store/memory.ts'
import { openFake, seed, seedChanges } from '../kit/fake-lab.ts'

const LAB = 'fake'

async function everything(store: ReturnType<typeof memoryStore>): Promise<string> {
  const homes = [...wholeHomes, 'archive'] as const
  const kept = await Promise.all(homes.map((home) => store.snapshot(LAB, home)))
  return JSON.stringify([await store.read(LAB, 0, 1000), kept])
}

describe('taking private data out', () => {
  it('leaves nothing of it in records and log, and keeps the attribution that was chosen', async () => {
    const inner = memoryStore()
    await seed(inner, seedChanges())
    const house = await openFake({ store: forgetful(inner), ops: labOps, dayOp: null })
    const { clock } = house
    const mara = house.client('mara', 'board')
    await clock.pass(50)
    const act = async (kind: string, body: Record<string, unknown>) => {
      mara.act(house.op(kind as never, body as never))
      await clock.pass(200)
    }
    await act('setContact', { contact: { id: 'vera', phone: 'PLANT-phone', email: '', emergency: 'PLANT-aunt' } })
    await act('writePrivateNote', {
      note: { id: 'n1', aboutPersonId: 'vera', aboutPieceId: null, text: 'PLANT-note' },
    })
    await act('editPerson', { personId: 'vera', patch: { familyName: 'PLANT-family' } })
    // Somebody else's stays.
    await act('setContact', { contact: { id: 'viktor', phone: 'PLANT-other', email: '', emergency: '' } })
    const before = await everything(inner)
    for (const text of ['PLANT-phone', 'PLANT-aunt', 'PLANT-note', 'PLANT-family']) expect(before).toContain(text)
    const length = await inner.head(LAB)

    await act('erasePerson', { personId: 'vera', as: 'volunteer' })
    const after = await everything(inner)
    for (const text of ['PLANT-phone', 'PLANT-aunt', 'PLANT-note', 'PLANT-family']) expect(after).not.toContain(text)
    expect(after).toContain('PLANT-other')
    expect(house.lab.records.person.get('vera')).toMatchObject({ name: 'a volunteer', familyName: '', isActive: false })
    // The log keeps its length, its ids and its order.
    expect(await inner.head(LAB)).toBe(length + 1)
    expect((await inner.read(LAB, 0, 1000)).map(({ seq }) => seq)).toEqual(
      Array.from({ length: length + 1 }, (_, n) => n + 1),
    )
    await house.close()
  })
})
