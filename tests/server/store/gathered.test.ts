import { describe, expect, it } from 'vitest'
import { type DoorChange, gatheredDoor } from '../../../server/store/gathered.ts'

const item = (key: string, value: unknown = key) => ({ key, value, expiresAt: null })

/** Tables whose writes end when they are told to. */
function heldTables() {
  const writes: { readonly changes: readonly DoorChange[]; readonly end: (error?: Error) => void }[] = []
  const door = gatheredDoor({
    write: (changes) =>
      new Promise((resolve, reject) => writes.push({ changes, end: (error) => (error ? reject(error) : resolve()) })),
    get: async (_space, key) => item(key, writes.length),
    take: async () => null,
    list: async () => [],
    sweep: async () => {},
  })
  return { door, writes, end: (n: number, error?: Error) => writes[n]?.end(error) }
}
const turns = () => new Promise((next) => setImmediate(next))

describe('the door’s writes', () => {
  it('go together as long as another is under way, the last of each item alone', async () => {
    const { door, writes, end } = heldTables()
    const first = door.put('s', item('a'))
    const later = [door.put('s', item('b', 1)), door.put('s', item('c')), door.put('s', item('b', 2))]
    const gone = door.remove('s', 'c')
    expect(writes.map(({ changes }) => changes.length)).toEqual([1])
    end(0)
    await first
    await turns()
    expect(writes).toHaveLength(2)
    expect(writes[1]?.changes).toEqual([
      { space: 's', key: 'b', item: { value: 2, expiresAt: null } },
      { space: 's', key: 'c', item: null },
    ])
    let isTold = false
    void later[0]?.then(() => {
      isTold = true
    })
    await turns()
    expect(isTold).toBe(false)
    end(1)
    await Promise.all([...later, gone])
  })

  it('are refused to those alone whose write failed', async () => {
    const { door, writes, end } = heldTables()
    const first = door.put('s', item('a'))
    const second = [door.put('s', item('b')), door.remove('s', 'c')]
    const refused = Promise.allSettled(second)
    end(0)
    await first
    await turns()
    const third = door.put('s', item('d'))
    end(1, new Error('full'))
    expect((await refused).map(({ status }) => status)).toEqual(['rejected', 'rejected'])
    await turns()
    expect(writes).toHaveLength(3)
    end(2)
    await third
  })

  it('are seen by whoever reads after them', async () => {
    const { door, end } = heldTables()
    const writing = [door.put('s', item('a')), door.put('s', item('b'))]
    const read = door.get('s', 'b', 0)
    end(0)
    await turns()
    end(1)
    await Promise.all(writing)
    expect(await read).toMatchObject({ value: 2 })
  })
})
