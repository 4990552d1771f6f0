// Photographs on their way from a device to the record: through lost networks, reloads, refusals and two tabs.
import { describe, expect, it } from 'vitest'
import type { HeldPhoto } from '../../../app/_board/core/ports.ts'
import type { Session } from '../../../app/_board/core/session.ts'
import { aTurn } from '../../kit/makers.ts'
import { photoSaid } from '../../kit/makers-photos.ts'
import { aWorld, type World } from './kit/world.ts'

/** More than two pieces. */
const SIZE = 1_300_000
const jpeg = (fill: number, size = SIZE) =>
  new Blob([new Uint8Array([0xff, 0xd8, 0xff]), new Uint8Array(size).fill(fill)])
const { entryId, view, scaleBarMm, caption, takenAt, takenBy, owner, licence } = photoSaid({ takenBy: null })
const said = { entryId, view, scaleBarMm, caption, takenAt, takenBy, owner, licence }

const take = (tab: Session, file: Blob, over: Partial<HeldPhoto> = {}) =>
  tab.photos?.add({ id: tab.newId(), pieceId: aTurn().pieceId, file, said, draftOf: null, ...over })

async function opened(world: World, personId: string) {
  const device = world.device(personId)
  const tab = world.tab(device)
  await world.clock.pass(200)
  return { device, tab }
}

/** Until promises of blobs, which no fake clock moves, have come. */
async function settle(world: World, ms = 200): Promise<void> {
  for (let n = 0; n < 60; n++) {
    await new Promise((done) => setImmediate(done))
    await world.clock.pass(ms / 60)
  }
}

const onSheet = async (world: World) =>
  (await world.entries()).flatMap(({ changes }) => changes.flatMap((one) => (one.kind === 'photo' ? [one.record] : [])))

describe('photographs on their way', () => {
  it('are sent by pieces, named by an act, and gone from the device when both are kept', async () => {
    const world = await aWorld()
    const { device, tab } = await opened(world, 'pia')
    expect(await take(tab, jpeg(1))).toBeNull()
    expect(tab.shown.save.get()).toMatchObject({ state: 'sending', count: 1 })
    await settle(world)
    expect(await onSheet(world)).toMatchObject([{ pieceId: 'skull', bytes: SIZE + 3, widthPx: 40, by: 'pia' }])
    expect(tab.shown.photos.get()).toEqual([])
    expect([...device.disks.values()].flatMap(({ photos }) => [...photos])).toEqual([])
    expect(tab.shown.save.get()).toMatchObject({ state: 'kept', count: 0 })
    // The same file again: on the Sheet already, so nothing is left to tell.
    await take(tab, jpeg(1))
    await settle(world)
    expect(await onSheet(world)).toHaveLength(1)
    expect([tab.shown.photos.get(), tab.shown.refused.get()]).toEqual([[], []])
  })

  it('wait, and are not refused, while what counts them cannot be fetched', async () => {
    const world = await aWorld()
    const { tab } = await opened(world, 'pia')
    world.files.facts.isCounting = false
    await take(tab, jpeg(4))
    await settle(world, 4000)
    expect(tab.shown.photos.get()).toMatchObject([{ hash: null, refused: null }])
    world.files.facts.isCounting = true
    await settle(world, 40_000)
    expect(tab.shown.photos.get()).toEqual([])
    expect(await onSheet(world)).toHaveLength(1)
  })

  it('wait without a network and through a reload, and go on where they ended', async () => {
    const world = await aWorld()
    const { device, tab } = await opened(world, 'pia')
    const { facts } = world.files
    facts.loseAfterBytes = 600_000
    await take(tab, jpeg(2))
    await settle(world)
    world.cut(device)
    await settle(world, 4000)
    expect(tab.shown.save.get()).toMatchObject({ state: 'offline', count: 1 })
    await take(tab, jpeg(3))
    tab.stop()
    facts.loseAfterBytes = Number.POSITIVE_INFINITY
    const again = world.tab(device)
    await settle(world, 4000)
    expect(again.shown.photos.get()).toHaveLength(2)
    world.mend(device)
    await settle(world, 12_000)
    await settle(world, 12_000)
    expect(await onSheet(world)).toHaveLength(2)
    expect(facts.sentBytes).toBe(2 * (SIZE + 3))
    expect(again.shown.photos.get()).toEqual([])
  })

  it('that are no photographs are not taken at all, and what the lab refuses stays with its reason', async () => {
    const world = await aWorld()
    const { tab } = await opened(world, 'pia')
    expect(await take(tab, new Blob(['#!/bin/sh\necho nothing of a picture\n']))).toBe('not-an-image')
    expect(await take(tab, new Blob([]))).toBe('empty')
    const huge = { size: 2 * 1024 ** 3, slice: () => new Blob() } as unknown as Blob
    expect(await take(tab, huge)).toBe('too-big')
    expect(tab.shown.photos.get()).toEqual([])

    world.files.facts.refuses = 'damaged'
    await take(tab, jpeg(4))
    await settle(world)
    expect(tab.shown.photos.get()).toMatchObject([{ refused: 'damaged' }])
    expect(tab.shown.save.get()).toMatchObject({ state: 'kept', count: 0 })
    world.files.facts.refuses = null
    await tab.photos?.again(tab.shown.photos.get()[0]?.id ?? '')
    await settle(world)
    expect(await onSheet(world)).toHaveLength(1)

    // Ana has nothing to do with the skull today.
    const ana = await opened(world, 'ana')
    await take(ana.tab, jpeg(5))
    await settle(world)
    expect(ana.tab.shown.photos.get()).toMatchObject([{ refused: [{ code: 'not-yours' }] }])
    expect(ana.tab.shown.refused.get()).toEqual([])
    await ana.tab.photos?.drop(ana.tab.shown.photos.get()[0]?.id ?? '')
    expect(ana.tab.shown.photos.get()).toEqual([])
  })

  it('that did not arrive as announced stay on the device, and are counted anew when tried again', async () => {
    const world = await aWorld()
    const { device, tab } = await opened(world, 'pia')
    const { facts } = world.files
    facts.refuses = 'wrong-hash'
    await take(tab, jpeg(9))
    await settle(world)
    const [held] = tab.shown.photos.get()
    expect([held?.refused, held?.file.size, await onSheet(world)]).toEqual(['wrong-hash', SIZE + 3, []])
    expect([...device.disks.values()].flatMap(({ photos }) => [...photos])).toHaveLength(1)
    facts.refuses = null
    facts.isCounting = false
    await tab.photos?.again(held?.id ?? '')
    await settle(world)
    expect(tab.shown.photos.get()).toMatchObject([{ hash: null, refused: null }])
    facts.isCounting = true
    await settle(world, 40_000)
    expect([await onSheet(world), tab.shown.photos.get()]).toMatchObject([[{ bytes: SIZE + 3 }], []])
  })

  it('of an unfinished form wait for it, and go with what it says', async () => {
    const world = await aWorld()
    const { device, tab } = await opened(world, 'pia')
    await take(tab, jpeg(6), { draftOf: 'finish.w1' })
    await settle(world)
    tab.stop()
    const again = world.tab(device)
    await settle(world)
    const [draft] = again.shown.photos.get()
    expect([draft?.draftOf, again.shown.save.get().count]).toEqual(['finish.w1', 0])
    await again.photos?.release(draft?.id ?? '', { said: { entryId: 'log7' } })
    await settle(world)
    expect(await onSheet(world)).toMatchObject([{ entryId: 'log7' }])
  })

  it('are sent by one tab, whichever they were taken in', async () => {
    const world = await aWorld()
    const { device, tab } = await opened(world, 'pia')
    const other = world.tab(device)
    await world.clock.pass(200)
    await take(other, jpeg(7))
    await take(tab, jpeg(8))
    await settle(world)
    await settle(world)
    expect(await onSheet(world)).toHaveLength(2)
    expect(world.files.facts.sentBytes).toBe(2 * (SIZE + 3))
    expect([tab.shown.photos.get(), other.shown.photos.get()]).toEqual([[], []])
  })
})
