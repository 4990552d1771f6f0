// Who gets in, as whom, and what ends it.
import { describe, expect, test } from 'vitest'
import { finding } from '#lib/words'
import { aDoor, ids, tokenOf } from '../../kit/door.ts'

const DAY = 86_400_000
const MINUTE = 60_000

describe('a link', () => {
  test('lets its person in once, and says so to the second', async () => {
    const { door } = await aDoor()
    const link = await door.invite(ids.volunteer, ids.manager)
    const token = tokenOf(await door.join(link, undefined, null))
    expect(door.identify(door.sessionOf(token))).toEqual({ personId: 'bea', name: 'Bea', role: 'volunteer' })
    expect(await door.join(link, undefined, null)).toEqual({ refused: 'used-link' })
    expect(door.look(link)).toEqual({ refused: 'used-link' })
  })

  test('lets one in when two use it in the same instant', async () => {
    const { door } = await aDoor()
    const link = await door.invite(ids.volunteer, ids.manager)
    const both = await Promise.all([door.join(link, undefined, null), door.join(link, undefined, null)])
    expect(both.filter((entered) => 'token' in entered)).toHaveLength(1)
  })

  test('can be looked at without being used', async () => {
    const { door } = await aDoor()
    const link = await door.invite(ids.newcomer, null)
    expect(door.look(link)).toEqual({ lab: 'Yard', role: 'manager', name: 'Nils', asksName: true })
    expect('token' in (await door.join(link, 'Nadia', null))).toBe(true)
  })

  test('names nobody before the first has joined: the name in the record only stands for one', async () => {
    const { door, change } = await aDoor()
    for (const id of Object.values(ids)) change(id, { hasJoined: false })
    expect(door.look(await door.invite(ids.newcomer, null))).toMatchObject({ name: null, asksName: true })
    change(ids.manager, { hasJoined: true })
    expect(door.look(await door.invite(ids.newcomer, null))).toMatchObject({ name: 'Nils', asksName: true })
  })

  test('opens nothing after a week', async () => {
    const { door, clock } = await aDoor()
    const link = await door.invite(ids.volunteer, ids.manager)
    clock.jump(7 * DAY)
    expect(await door.join(link, undefined, null)).toEqual({ refused: 'bad-link' })
  })

  test('ends when a newer one is made for the same person', async () => {
    const { door } = await aDoor()
    const first = await door.invite(ids.volunteer, ids.manager)
    await door.invite(ids.volunteer, ids.manager)
    expect(await door.join(first, undefined, null)).toEqual({ refused: 'bad-link' })
  })

  test('opens nothing for somebody who left, nor when it is made up', async () => {
    const { door, change } = await aDoor()
    const link = await door.invite(ids.volunteer, ids.manager)
    change('bea', { isActive: false })
    expect(await door.join(link, undefined, null)).toEqual({ refused: 'bad-link' })
    expect(await door.join('x'.repeat(43), undefined, null)).toEqual({ refused: 'bad-link' })
    expect(await door.join('short', undefined, null)).toEqual({ refused: 'bad-link' })
  })

  test('gives the newcomer their name and marks them as joined, through the gate', async () => {
    const { door, acts } = await aDoor()
    const link = await door.invite(ids.newcomer, null)
    const token = tokenOf(await door.join(link, ' Nadia ', null))
    expect(acts.map(({ body, who }) => [body, who.role])).toEqual([
      [{ kind: 'editPerson', personId: 'nils', patch: { name: 'Nadia', hasJoined: true } }, 'system'],
    ])
    expect(door.me(door.sessionOf(token)).person?.name).toBe('Nadia')
  })

  test('stays usable when the name is taken or the gate refuses', async () => {
    const taken = await aDoor()
    const link = await taken.door.invite(ids.newcomer, null)
    expect(await taken.door.join(link, 'bea', null)).toEqual({ refused: 'name-taken' })
    expect('token' in (await taken.door.join(link, 'Nadia', null))).toBe(true)
    const refusing = await aDoor({ refusing: [finding('O', 'fault')] })
    const other = await refusing.door.invite(ids.newcomer, null)
    expect(await refusing.door.join(other, 'Nadia', null)).toEqual({ refused: 'refused' })
    expect(refusing.door.look(other)).toMatchObject({ name: 'Nils' })
  })

  test('does not rename somebody who had joined before', async () => {
    const { door, acts } = await aDoor()
    await door.join(await door.invite(ids.volunteer, ids.manager), 'Boss', null)
    expect(acts).toEqual([])
  })
})

describe('the wall', () => {
  test('has a link for any number of screens, until another one is made', async () => {
    const { door } = await aDoor()
    const link = await door.invite(null, ids.manager)
    const first = tokenOf(await door.join(link, undefined, null))
    const second = tokenOf(await door.join(link, undefined, null))
    expect(door.identify(door.sessionOf(first))).toEqual({ personId: null, name: '', role: 'wall' })
    await door.invite(null, ids.manager)
    expect(await door.join(link, undefined, null)).toEqual({ refused: 'bad-link' })
    expect(door.sessionOf(second)).not.toBeNull()
    await door.signOutWalls()
    expect([door.sessionOf(first), door.sessionOf(second)]).toEqual([null, null])
  })
})

describe('a session', () => {
  test('follows the role and the leaving of its person at once', async () => {
    const { door, change } = await aDoor()
    const token = tokenOf(await door.join(await door.invite(ids.volunteer, null), undefined, null))
    change('bea', { role: 'preparator' })
    expect(door.identify(door.sessionOf(token))?.role).toBe('preparator')
    change('bea', { isActive: false })
    expect(door.identify(door.sessionOf(token))).toBeNull()
  })

  test('survives a restart, is kept as a hash only, and ends when unused for a quarter of a year', async () => {
    const { door, reopen, tables, clock } = await aDoor()
    const token = tokenOf(await door.join(await door.invite(ids.volunteer, null), undefined, null))
    const kept = JSON.stringify(await tables.list('session', clock.now()))
    expect(kept).not.toContain(token)
    const again = await reopen()
    expect(again.identify(again.sessionOf(token))?.personId).toBe('bea')
    clock.jump(89 * DAY)
    expect(again.sessionOf(token)).not.toBeNull()
    clock.jump(89 * DAY)
    expect(again.sessionOf(token)).not.toBeNull()
    clock.jump(91 * DAY)
    expect(again.sessionOf(token)).toBeNull()
  })

  test('ends here, on one device or on all others, and says which connections must go', async () => {
    const { door, ended, logged } = await aDoor()
    const enter = async () => tokenOf(await door.join(await door.invite(ids.volunteer, null), undefined, null))
    const [phone, laptop, tablet] = [await enter(), await enter(), await enter()]
    const here = door.sessionOf(phone)
    if (!here) throw new Error('not in')
    expect(await door.signOut(here)).toBeNull()
    expect(ended.map(({ key }) => key)).toEqual([here.key])
    const last = door.sessionOf(laptop)
    if (!last) throw new Error('not in')
    const listed = door.devices(last).devices
    expect(listed.map(({ isHere }) => isHere).toSorted()).toEqual([false, true])
    // Somebody else's name for a device ends nothing.
    await door.endDevices(ids.manager, () => true)
    expect(door.devices(last).devices).toHaveLength(2)
    const other = listed.find(({ isHere }) => !isHere)?.id
    await door.endDevices(ids.volunteer, (id) => id === other)
    expect([phone, laptop, tablet].map((token) => door.sessionOf(token) !== null)).toEqual([false, true, false])
    await door.endDevices(ids.volunteer, () => true)
    expect(door.sessionOf(laptop)).toBeNull()
    // Who came and went can be read in the log, by id; no secret can.
    expect(logged.filter((line) => line.includes('let in'))).toHaveLength(3)
    expect(logged.filter((line) => line.includes('signed out'))).toHaveLength(3)
    expect(logged.every((line) => line.includes('"who":"bea"'))).toBe(true)
    for (const secret of [phone, laptop, tablet, here.key, here.device]) expect(logged.join()).not.toContain(secret)
  })

  test('gives way to a new secret when somebody enters again with it', async () => {
    const { door } = await aDoor({ isDemo: true })
    const first = tokenOf(await door.pretend(ids.volunteer, null))
    const second = tokenOf(await door.pretend(ids.manager, door.sessionOf(first)))
    expect(door.sessionOf(first)).toBeNull()
    expect(door.identify(door.sessionOf(second))?.role).toBe('manager')
  })
})

describe('the demo', () => {
  test('lets be anybody who is there, in the demo lab alone', async () => {
    const demo = await aDoor({ isDemo: true })
    expect(await demo.door.pretend(ids.manager, null)).toHaveProperty('token')
    expect(await demo.door.pretend('wall', null)).toHaveProperty('token')
    demo.change('bea', { isActive: false })
    expect(await demo.door.pretend(ids.volunteer, null)).toEqual({ refused: 'not-found' })
    const real = await aDoor()
    expect(await real.door.pretend(ids.manager, null)).toEqual({ refused: 'not-found' })
  })
})

describe('a shared tablet', () => {
  async function tablet() {
    const kit = await aDoor()
    const { door } = kit
    await door.setPin(ids.volunteer, '4711')
    const first = door.sessionOf(tokenOf(await door.join(await door.invite(ids.preparator, null), undefined, null)))
    if (!first) throw new Error('not in')
    const bench = door.sessionOf(tokenOf(await door.setBench(true, first)))
    if (!bench) throw new Error('not in')
    return { ...kit, bench }
  }

  test('passes to whoever knows their PIN', async () => {
    const { door, bench } = await tablet()
    expect(await door.switchTo(ids.volunteer, '4712', bench)).toEqual({ refused: 'wrong-pin' })
    expect(await door.switchTo(ids.manager, '4711', bench)).toEqual({ refused: 'no-pin' })
    const token = tokenOf(await door.switchTo(ids.volunteer, '4711', bench))
    expect(door.identify(door.sessionOf(token))?.personId).toBe('bea')
    expect(door.sessionOf(token)?.device).toBe(bench.device)
  })

  test('stays ready for the next when somebody signs out, and opens nothing meanwhile', async () => {
    const { door, bench } = await tablet()
    const session = door.sessionOf(tokenOf(await door.switchTo(ids.volunteer, '4711', bench)))
    const left = session && (await door.signOut(session))
    const empty = left ? door.sessionOf(tokenOf(left)) : null
    expect(empty?.isBench).toBe(true)
    expect(door.identify(empty)).toBeNull()
    expect(empty && (await door.switchTo(ids.volunteer, '4711', empty))).toHaveProperty('token')
  })

  test('lets nobody stay in overnight', async () => {
    const { door, bench, clock, ended } = await tablet()
    const token = tokenOf(await door.switchTo(ids.volunteer, '4711', bench))
    clock.jump(12 * 60 * MINUTE)
    expect(door.identify(door.sessionOf(token))).toBeNull()
    ended.length = 0
    await door.sweep()
    expect(ended.map(({ personId }) => personId)).toEqual(['bea'])
    expect(door.sessionOf(token)?.isBench).toBe(true)
  })

  test('stays one when somebody who sits at it is signed out from afar, and is their own device no longer', async () => {
    const { door, bench, ended } = await tablet()
    const token = tokenOf(await door.switchTo(ids.volunteer, '4711', bench))
    ended.length = 0
    await door.endDevices(ids.volunteer, () => true)
    expect(ended.map(({ personId }) => personId)).toEqual(['bea'])
    const left = door.sessionOf(token)
    expect([left?.isBench, door.identify(left)]).toEqual([true, null])
    expect(left && door.devices(left).devices).toEqual([])
  })

  test('does not take PINs from the wall or a researcher', async () => {
    const { door } = await tablet()
    const guest = door.sessionOf(tokenOf(await door.join(await door.invite(ids.researcher, null), undefined, null)))
    expect(guest && (await door.switchTo(ids.volunteer, '4711', guest))).toEqual({ refused: 'not-allowed' })
  })

  test('slows guesses down by person and device, without shutting the person out elsewhere', async () => {
    const { door, bench, clock } = await tablet()
    for (let guess = 0; guess < 6; guess++) await door.switchTo(ids.volunteer, '0000', bench)
    expect(await door.switchTo(ids.volunteer, '4711', bench)).toMatchObject({ refused: 'wait' })
    const other = door.sessionOf(tokenOf(await door.join(await door.invite(ids.preparator, null), undefined, null)))
    expect(other && (await door.switchTo(ids.volunteer, '4711', other))).toHaveProperty('token')
    clock.jump(16 * MINUTE)
    expect(await door.switchTo(ids.volunteer, '4711', bench)).toHaveProperty('token')
  })

  test('lets a person in at their usual tablet however many strange devices guess', async () => {
    const { door, bench } = await tablet()
    let usual = door.sessionOf(tokenOf(await door.switchTo(ids.volunteer, '4711', bench)))
    for (let device = 0; device < 10; device++) {
      const strange = door.sessionOf(tokenOf(await door.join(await door.invite(ids.preparator, null), undefined, null)))
      for (let guess = 0; guess < 4; guess++) if (strange) await door.switchTo(ids.volunteer, '0000', strange)
    }
    const fresh = door.sessionOf(tokenOf(await door.join(await door.invite(ids.preparator, null), undefined, null)))
    expect(fresh && (await door.switchTo(ids.volunteer, '4711', fresh))).toMatchObject({ refused: 'wait' })
    usual = usual && door.sessionOf(tokenOf(await door.switchTo(ids.volunteer, '4711', usual)))
    expect(door.identify(usual)?.personId).toBe('bea')
  })

  test('knows the usual tablet after a restart too, so that guesses shut nobody out', async () => {
    const { door, bench, reopen } = await tablet()
    const usual = tokenOf(await door.switchTo(ids.volunteer, '4711', bench))
    const again = await reopen()
    for (let device = 0; device < 10; device++) {
      const strange = again.sessionOf(
        tokenOf(await again.join(await again.invite(ids.preparator, null), undefined, null)),
      )
      for (let guess = 0; guess < 4; guess++) if (strange) await again.switchTo(ids.volunteer, '0000', strange)
    }
    const here = again.sessionOf(usual)
    expect(here && (await again.switchTo(ids.volunteer, '4711', here))).toHaveProperty('token')
  })

  test('keeps PINs as argon2id hashes only, and forgets them when asked', async () => {
    const { door, tables, clock, bench } = await tablet()
    const kept = JSON.stringify(await tables.list('pin', clock.now()))
    expect(kept).toContain('$argon2id$')
    expect(kept).not.toContain('4711')
    await door.setPin(ids.volunteer, null)
    expect(await door.switchTo(ids.volunteer, '4711', bench)).toEqual({ refused: 'no-pin' })
  })
})
