// The client's session against the real rooms and gate: hours offline, reloads, two tabs, races, restarts, other people.
import { describe, expect, it } from 'vitest'
import type { OpBody } from '#lib/ops'
import { PROTOCOL_VERSION, type Records } from '#lib/words'
import { TODAY } from '../../kit/makers.ts'
import { aWorld, type Device, type World } from './kit/world.ts'

const shelve = (pieceId: string, shelf: string) => ({ kind: 'shelve', pieceId, shelf, placeId: null }) as OpBody
const claim = (pieceId: string, stepId: string, placeId: string) =>
  ({ kind: 'claim', date: TODAY, shiftId: 'morning', pieceId, stepId, placeId }) as OpBody

const shelfOf = (records: Records, id: string) => (records.specimen.get(id) ?? records.jacket.get(id))?.shelf
const sentOps = (device: Device) =>
  device.sent.flatMap(({ text }) => {
    const message = JSON.parse(text) as { type: string; ops?: { id: string }[] }
    return message.type === 'ops' ? (message.ops ?? []).map(({ id }) => id) : []
  })

async function opened(world: World, personId: string) {
  const device = world.device(personId)
  const tab = world.tab(device)
  await world.clock.pass(200)
  return { device, tab }
}

describe('a session', () => {
  it('opens with what the server has for this role, and knows who is here', async () => {
    const world = await aWorld()
    for (const personId of ['mira', 'ana', 'rex', 'wall']) {
      const { tab } = await opened(world, personId)
      const role = personId === 'wall' ? 'wall' : (world.lab.records.person.get(personId)?.role ?? 'wall')
      expect(tab.shown.records.get()).toEqual(world.truthFor(role))
      expect(tab.shown.who.get()).toMatchObject({ personId, role })
      expect(tab.shown.save.get()).toMatchObject({ state: 'kept', count: 0 })
    }
    expect(world.errors).toEqual([])
  })

  it('shows an act at once, keeps it, and paints no record again for the receipt', async () => {
    const world = await aWorld()
    const { tab } = await opened(world, 'pia')
    const done = tab.act(shelve('skull', 'rack 2'))
    expect(done.ok).toBe(true)
    const early = tab.shown.records.get()
    expect(shelfOf(early, 'skull')).toBe('rack 2')
    expect(tab.shown.save.get()).toMatchObject({ state: 'sending', count: 1 })
    await world.clock.pass(100)
    expect(tab.shown.save.get()).toMatchObject({ state: 'kept', count: 0 })
    expect(tab.shown.records.get()).toBe(early)
    expect(shelfOf(world.lab.records, 'skull')).toBe('rack 2')
  })

  it('says early why an act is refused, and changes nothing', async () => {
    const world = await aWorld()
    const { tab, device } = await opened(world, 'rex')
    const before = tab.shown.records.get()
    expect(tab.act(shelve('skull', 'rack 2'))).toMatchObject({ ok: false, findings: [{ code: 'role' }] })
    expect(tab.shown.records.get()).toBe(before)
    await world.clock.pass(100)
    expect(sentOps(device)).toEqual([])
  })
})

describe('offline', () => {
  it('acts made while the network is away arrive once, in order', async () => {
    const world = await aWorld()
    const { tab, device } = await opened(world, 'pia')
    world.cut(device)
    await world.clock.pass(3000)
    expect(tab.shown.save.get().state).toBe('offline')
    const ids = ['a', 'b', 'c', 'd'].map((shelf) => {
      const done = tab.act(shelve('skull', shelf))
      return done.ok ? done.id : 'refused'
    })
    expect(shelfOf(tab.shown.records.get(), 'skull')).toBe('d')
    expect(tab.shown.save.get()).toMatchObject({ state: 'offline', count: 4 })
    await world.clock.pass(3_600_000)
    world.mend(device)
    await world.clock.pass(5000)
    expect(sentOps(device)).toEqual(ids)
    expect(tab.shown.save.get()).toMatchObject({ state: 'kept', count: 0 })
    expect(tab.shown.records.get()).toEqual(world.truthFor('preparator'))
    expect(shelfOf(world.lab.records, 'skull')).toBe('d')
  })

  it('an answer lost on the way is asked for again and counts once', async () => {
    const world = await aWorld()
    const { tab, device } = await opened(world, 'ana')
    device.net.delayMs = () => 50
    const seq = world.lab.seq
    tab.act({ kind: 'askQuestion', questionId: 'q1', pieceId: 'skull', text: 'Which side?' } as OpBody)
    await world.clock.pass(80)
    expect(world.lab.seq).toBe(seq + 1)
    world.cut(device)
    await world.clock.pass(100)
    world.mend(device)
    await world.clock.pass(3000)
    expect(sentOps(device)).toHaveLength(2)
    expect(world.lab.seq).toBe(seq + 1)
    expect(tab.shown.save.get()).toMatchObject({ state: 'kept', count: 0 })
    expect(tab.shown.refused.get()).toEqual([])
  })

  it('a reload keeps what waits, and an offline opening shows the last board with it', async () => {
    const world = await aWorld()
    const { tab, device } = await opened(world, 'pia')
    // The copy is made when the board has been painted.
    await world.clock.pass(1500)
    const at = world.clock.now()
    world.cut(device)
    tab.act(shelve('skull', 'rack 7'))
    tab.stop()
    await world.clock.pass(60_000)
    const again = world.tab(device)
    await world.clock.pass(3000)
    expect(again.shown.gate.get()).toBe('in')
    expect(again.shown.save.get()).toMatchObject({ state: 'offline', count: 1 })
    expect(Math.abs((again.shown.save.get().at ?? 0) - at)).toBeLessThan(2000)
    expect(shelfOf(again.shown.records.get(), 'skull')).toBe('rack 7')
    expect(again.act(shelve('rib', 'rack 8')).ok).toBe(true)
    world.mend(device)
    await world.clock.pass(5000)
    expect(shelfOf(world.lab.records, 'skull')).toBe('rack 7')
    expect(shelfOf(world.lab.records, 'rib')).toBe('rack 8')
    expect(again.shown.records.get()).toEqual(world.truthFor('preparator'))
  })

  it.each([
    ['newer', { version: PROTOCOL_VERSION + 1, role: 'curator', rooms: ['north'], personId: { id: 'pia' } }],
    ['older', { version: PROTOCOL_VERSION - 1, lab: undefined, epoch: undefined, at: undefined }],
  ])(
    'a tab that stayed open while the server became %s says so, sends nothing, and loses nothing',
    async (_, other) => {
      const world = await aWorld()
      const { tab, device } = await opened(world, 'pia')
      await world.down()
      world.cut(device)
      const made = ['a', 'b'].map((shelf) => tab.act(shelve('skull', shelf)))
      world.become(other)
      await world.up()
      world.mend(device)
      await world.clock.pass(20_000)
      expect(tab.shown.gate.get()).toBe('reload')
      expect([sentOps(device), world.errors]).toEqual([[], []])
      tab.stop()
      // The tab is loaded again, and is of the server's version then.
      world.become({})
      const again = world.tab(device)
      await world.clock.pass(5000)
      expect(again.shown.gate.get()).toBe('in')
      expect(sentOps(device)).toEqual(made.map((done) => (done.ok ? done.id : 'refused')))
      expect(shelfOf(world.lab.records, 'skull')).toBe('b')
      expect((await world.entries()).map(({ kind }) => kind)).toEqual(['shelve', 'shelve'])
      expect(again.shown.save.get()).toMatchObject({ state: 'kept', count: 0 })
    },
  )

  it('what a newer tab did and an older server does not know is refused to its author with all they typed', async () => {
    const world = await aWorld()
    const { tab, device } = await opened(world, 'pia')
    tab.stop()
    await world.clock.pass(200)
    const unknown = { id: '01jp5x00000000000000000000', kind: 'weighOnTheMoon', note: 'an hour of typing' }
    const known = { id: '01jp5x00000000000000000001', ...shelve('skull', 'kept all the same') }
    const when = world.lab.when()
    for (const op of [unknown, known])
      for (const disk of device.disks.values()) disk.waiting.set(op.id, JSON.stringify({ op, when }))
    const again = world.tab(device)
    await world.clock.pass(5000)
    expect(again.shown.refused.get()).toMatchObject([{ op: unknown }])
    expect(shelfOf(world.lab.records, 'skull')).toBe('kept all the same')
  })

  it('a refused act comes back with its words after a reload too, until it is dismissed', async () => {
    const world = await aWorld()
    const { tab, device } = await opened(world, 'ana')
    const other = await opened(world, 'ben')
    world.cut(device)
    expect(tab.act(claim('skull', 'skull-1', 'b1')).ok).toBe(true)
    expect(tab.act({ kind: 'watch', pieceId: 'rib' } as OpBody).ok).toBe(true)
    expect(other.tab.act(claim('skull', 'skull-1', 'b2')).ok).toBe(true)
    await world.clock.pass(200)
    world.mend(device)
    await world.clock.pass(3000)
    expect(tab.shown.refused.get()).toMatchObject([
      { op: { kind: 'claim', pieceId: 'skull' }, findings: [{ code: 'has-it', ids: { person: 'ben' } }] },
    ])
    expect(tab.shown.records.get().watch.has('rib.ana')).toBe(true)
    expect(tab.shown.records.get()).toEqual(world.truthFor('volunteer'))
    tab.stop()
    const again = world.tab(device)
    await world.clock.pass(500)
    const [refused] = again.shown.refused.get()
    expect(refused?.op.kind).toBe('claim')
    again.dismiss(refused?.op.id ?? '')
    again.stop()
    const third = world.tab(device)
    await world.clock.pass(500)
    expect(third.shown.refused.get()).toEqual([])
  })
})

describe('two tabs', () => {
  it('share what waits and send each act once', async () => {
    const world = await aWorld()
    const { tab: first, device } = await opened(world, 'pia')
    const second = world.tab(device)
    await world.clock.pass(200)
    world.cut(device)
    const one = first.act(shelve('skull', 'from the first'))
    await world.clock.pass(50)
    const two = second.act(shelve('rib', 'from the second'))
    await world.clock.pass(50)
    expect(shelfOf(second.shown.records.get(), 'skull')).toBe('from the first')
    expect(shelfOf(first.shown.records.get(), 'rib')).toBe('from the second')
    expect(second.shown.save.get().count).toBe(2)
    world.mend(device)
    await world.clock.pass(5000)
    expect(sentOps(device)).toEqual([one, two].map((done) => (done.ok ? done.id : '')))
    for (const tab of [first, second]) {
      expect(tab.shown.save.get()).toMatchObject({ state: 'kept', count: 0 })
      expect(tab.shown.records.get()).toEqual(world.truthFor('preparator'))
    }
  })

  it('the other tab sends when the first one closes', async () => {
    const world = await aWorld()
    const { tab: first, device } = await opened(world, 'pia')
    const second = world.tab(device)
    await world.clock.pass(200)
    world.cut(device)
    first.act(shelve('skull', 'left behind'))
    first.stop()
    await world.clock.pass(50)
    world.mend(device)
    await world.clock.pass(5000)
    expect(shelfOf(world.lab.records, 'skull')).toBe('left behind')
    expect(second.shown.save.get()).toMatchObject({ state: 'kept', count: 0 })
  })
})

describe('the server', () => {
  it('restarted has another epoch: the copy is taken anew, the outbox stays, the screen never empties', async () => {
    const world = await aWorld()
    const { tab, device } = await opened(world, 'pia')
    await world.down()
    await world.clock.pass(100)
    tab.act(shelve('skull', 'meanwhile'))
    let fewest = Number.POSITIVE_INFINITY
    tab.shown.records.subscribe(() => {
      fewest = Math.min(fewest, tab.shown.records.get().specimen.size)
    })
    await world.up()
    const mira = await opened(world, 'mira')
    mira.tab.act(shelve('rib', 'by another'))
    await world.clock.pass(5000)
    expect(fewest).toBe(2)
    expect(shelfOf(world.lab.records, 'skull')).toBe('meanwhile')
    expect(shelfOf(tab.shown.records.get(), 'rib')).toBe('by another')
    expect(tab.shown.records.get()).toEqual(world.truthFor('preparator'))
    expect([...device.disks.values()].flatMap((disk) => [...disk.copies.keys()]).sort()).toEqual(['board', 'office'])
    expect(world.errors).toEqual([])
  })

  it('in trouble with its store is said to be, and keeps the act once it is well again', async () => {
    const world = await aWorld()
    const { tab } = await opened(world, 'pia')
    world.disk.isFull = true
    tab.act(shelve('skull', 'rack 2'))
    await world.clock.pass(2000)
    expect(tab.shown.save.get()).toMatchObject({ state: 'read-only', count: 1 })
    expect(shelfOf(tab.shown.records.get(), 'skull')).toBe('rack 2')
    world.disk.isFull = false
    await world.clock.pass(60_000)
    expect(tab.shown.save.get()).toMatchObject({ state: 'kept', count: 0 })
    expect(shelfOf(world.lab.records, 'skull')).toBe('rack 2')
    expect(tab.shown.records.get()).toEqual(world.truthFor('preparator'))
  })
})

describe('undo', () => {
  it('takes back one’s own last edit, once', async () => {
    const world = await aWorld()
    const { tab } = await opened(world, 'pia')
    const before = shelfOf(tab.shown.records.get(), 'skull')
    tab.act(shelve('skull', 'rack 2'))
    expect(tab.shown.undoable.get()).toMatchObject({ kind: 'shelve', pieceId: 'skull' })
    expect(tab.undo()).toMatchObject({ ok: true })
    expect(shelfOf(tab.shown.records.get(), 'skull')).toBe(before)
    expect(tab.shown.undoable.get()).toBe(null)
    expect(tab.undo()).toBe(null)
    await world.clock.pass(200)
    expect(shelfOf(world.lab.records, 'skull')).toBe(before)
  })

  it('does not go over the head of whoever changed it since', async () => {
    const world = await aWorld()
    const { tab } = await opened(world, 'pia')
    const mira = await opened(world, 'mira')
    tab.act(shelve('skull', 'rack 2'))
    await world.clock.pass(200)
    mira.tab.act(shelve('skull', 'rack 3'))
    await world.clock.pass(200)
    expect(tab.undo()).toMatchObject({ ok: false, findings: [{ code: 'changed-since' }] })
    expect(shelfOf(world.lab.records, 'skull')).toBe('rack 3')
  })
})

describe('another person on the device', () => {
  it('sees nothing of the former one, whose unsent words wait for them', async () => {
    const world = await aWorld()
    const { tab, device } = await opened(world, 'mira')
    expect(tab.shown.records.get().person.get('ana')?.skills.length).toBeGreaterThan(0)
    world.cut(device)
    tab.act(shelve('skull', 'said by mira'))
    world.switchTo(device, 'rex')
    world.mend(device)
    await world.clock.pass(5000)
    expect(tab.shown.who.get()).toMatchObject({ personId: 'rex', role: 'researcher' })
    expect(tab.shown.records.get()).toEqual(world.truthFor('researcher'))
    expect(device.disks.get('mira')?.copies.size).toBe(0)
    expect(device.forgotten).toBeGreaterThan(0)
    expect(shelfOf(world.lab.records, 'skull')).not.toBe('said by mira')
    world.switchTo(device, 'mira')
    await tab.changePerson()
    await world.clock.pass(5000)
    expect(shelfOf(world.lab.records, 'skull')).toBe('said by mira')
  })

  it('a stored copy is not shown before the server has said who this is', async () => {
    const world = await aWorld()
    const { tab, device } = await opened(world, 'mira')
    tab.stop()
    world.switchTo(device, 'rex')
    const again = world.tab(device)
    const seen = new Set<string>()
    again.shown.records.subscribe(() => {
      for (const person of again.shown.records.get().person.values())
        for (const skill of person.skills) seen.add(skill.by ?? 'x')
    })
    device.net.delayMs = () => 100
    await world.clock.pass(5000)
    expect(seen.size).toBe(0)
    expect(again.shown.who.get()?.personId).toBe('rex')
  })

  it('a role that changes takes effect on the open screen', async () => {
    const world = await aWorld()
    const { tab } = await opened(world, 'pia')
    const mira = await opened(world, 'mira')
    expect(mira.tab.act({ kind: 'editPerson', personId: 'pia', patch: { role: 'volunteer' } } as OpBody).ok).toBe(true)
    await world.clock.pass(5000)
    expect(tab.shown.who.get()).toMatchObject({ personId: 'pia', role: 'volunteer' })
    expect(tab.shown.records.get()).toEqual(world.truthFor('volunteer'))
  })

  it('signing out empties screen and device, in the other tab too', async () => {
    const world = await aWorld()
    const { tab, device } = await opened(world, 'mira')
    const second = world.tab(device)
    await world.clock.pass(200)
    world.switchTo(device, null)
    await tab.signOut()
    await world.clock.pass(5000)
    for (const one of [tab, second]) {
      expect(one.shown.gate.get()).toBe('out')
      expect(one.shown.who.get()).toBe(null)
      expect(one.shown.records.get().person.size).toBe(0)
    }
    const disk = device.disks.get('mira')
    expect([disk?.copies.size, disk?.waiting.size, device.last.value]).toEqual([0, 0, null])
  })
})

describe('a sheet', () => {
  it('is read while it is open, and its records go when it is closed', async () => {
    const world = await aWorld()
    const { tab } = await opened(world, 'pia')
    const close = tab.openSheet('skull')
    await world.clock.pass(200)
    expect(tab.shown.sheetsReady.get().has('skull')).toBe(true)
    const done = tab.act({
      kind: 'write',
      entryId: 'e1',
      pieceId: 'skull',
      entryKind: 'note',
      techniqueId: null,
      text: 'A first word.',
    } as OpBody)
    expect(done).toMatchObject({ ok: true })
    expect(tab.shown.records.get().entry.get('e1')?.text).toBe('A first word.')
    await world.clock.pass(3000)
    expect(tab.shown.records.get().entry.get('e1')?.text).toBe('A first word.')
    close()
    await world.clock.pass(60_000)
    expect(tab.shown.records.get().entry.size).toBe(0)
    expect(tab.shown.sheetsReady.get().size).toBe(0)
  })
})
