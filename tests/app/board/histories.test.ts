// Random histories: people on several devices and tabs act, lose the network, reload, switch tabs, while the server is
// stopped, killed and started. However it goes, in the end every screen equals the server, every act was kept once or
// refused with a reason, nothing is left over, and the acts of one tab lie in the store in the order they were made.
import { describe, expect, it } from 'vitest'
import { type Random, seededRandom } from '#lib/base'
import type { OpBody } from '#lib/ops'
import type { Records } from '#lib/words'
import type { Session } from '../../../app/_board/core/session.ts'
import { hasSentence } from '../../../app/_text/index.ts'
import { TODAY } from '../../kit/makers.ts'
import { aWorld, type Device } from './kit/world.ts'

const HISTORIES = Number(process.env.TALUS_HISTORIES ?? 300)
const FIRST_SEED = Number(process.env.TALUS_SEED ?? 1)
const PER_TEST = 100

const pick = <T>(dice: Random, list: readonly T[]): T | undefined => list[dice.below(list.length)]

/** Something this person might do, from what their screen shows; now and then something that cannot be done. */
function anAct(dice: Random, session: Session): OpBody {
  const records: Records = session.shown.records.get()
  const me = session.shown.who.get()?.personId ?? ''
  const piece = pick(dice, [...records.specimen.keys(), ...records.jacket.keys(), 'gone']) ?? 'gone'
  const step = pick(dice, [...records.step.values()])
  const place = pick(dice, [...records.place.keys()]) ?? 'b1'
  const mine = pick(
    dice,
    [...records.assignment.values()].filter((one) => one.personId === me),
  )
  const work = pick(
    dice,
    [...records.work.values()].filter((one) => one.personId === me),
  )
  const shiftId = pick(dice, ['morning', 'afternoon']) ?? 'morning'
  const stepBody = { pieceId: step?.pieceId ?? piece, stepId: step?.id ?? 'none', placeId: place }
  const bodies: readonly object[] = [
    { kind: 'shelve', pieceId: piece, shelf: `rack ${dice.below(9)}`, placeId: dice.below(3) === 0 ? place : null },
    { kind: 'shelve', pieceId: piece, shelf: `rack ${dice.below(9)}`, placeId: null },
    { kind: 'claim', date: TODAY, shiftId, ...stepBody },
    { kind: 'claim', date: TODAY, shiftId, ...stepBody },
    { kind: 'unclaim', assignmentId: mine?.id ?? 'none' },
    { kind: 'watch', pieceId: piece },
    { kind: 'unwatch', pieceId: piece },
    { kind: 'askQuestion', questionId: session.newId(), pieceId: piece, text: `Why ${dice.below(99)}?` },
    { kind: 'attend', personId: me, date: TODAY, shiftId, state: pick(dice, ['in', 'away', null]), dueAt: null },
    { kind: 'start', workId: session.newId(), assignmentId: mine?.id ?? 'none' },
    { kind: 'pause', workId: work?.id ?? 'none' },
    { kind: 'resume', workId: work?.id ?? 'none' },
    {
      kind: 'finish',
      workId: work?.id ?? 'none',
      logId: session.newId(),
      minutes: dice.below(60),
      runningMinutes: 0,
      note: 'A stretch.',
      stepDone: dice.below(8) === 0,
      shelf: null,
    },
    { kind: 'editSpecimen', pieceId: piece, patch: { note: `Note ${dice.below(99)}` } },
    { kind: 'editStep', stepId: step?.id ?? 'none', patch: { title: `Step ${dice.below(99)}` } },
    { kind: 'hold', date: TODAY, shiftId, personId: pick(dice, ['ana', 'ben', 'leo']) ?? 'ana', ...stepBody },
    { kind: 'closePlace', placeId: place, until: dice.below(2) === 0 ? null : '2026-03-20', reason: 'lamp' },
  ]
  // The bodies are plain; parseOp judges their form as it does for any screen.
  return pick(dice, bodies) as OpBody
}

type Tab = { readonly device: Device; session: Session; made: string[] }

async function play(seed: number): Promise<{ made: number; refused: number; epochs: number }> {
  const dice = seededRandom(seed)
  const world = await aWorld({ seed })
  const devices = ['mira', 'pia', 'ana', 'ben', 'leo', 'rex'].slice(0, 3 + dice.below(4)).map((who, index) => {
    const device = world.device(who, `${who}${index}`)
    device.net.delayMs = () => dice.below(30)
    return device
  })
  const open = (device: Device): Tab => ({ device, session: world.tab(device), made: [] })
  const tabs: Tab[] = devices.flatMap((device) => (dice.below(3) === 0 ? [open(device), open(device)] : [open(device)]))
  /** Acts by the life of a tab, in the order they were made. */
  const lives: string[][] = tabs.map((tab) => tab.made)
  const refused = new Map<string, readonly { readonly code: string }[]>()
  const note = () => {
    for (const { session } of tabs) {
      for (const item of session.shown.refused.get()) refused.set(item.op.id, item.findings)
    }
  }
  let epochs = 0
  let isUp = true
  for (let step = 0; step < 40; step++) {
    const tab = pick(dice, tabs)
    if (!tab) break
    const chance = dice.below(100)
    if (chance < 60) {
      for (let n = 1 + dice.below(3); n > 0; n--) {
        const done = tab.session.act(anAct(dice, tab.session))
        if (done.ok) tab.made.push(done.id)
        else for (const { code } of done.findings) expect(hasSentence(code), code).toBe(true)
      }
    } else if (chance < 66) {
      const done = tab.session.undo()
      if (done?.ok) tab.made.push(done.id)
    } else if (chance < 74) {
      if (tab.device.net.isUp) world.cut(tab.device)
      else world.mend(tab.device)
    } else if (chance < 80) {
      note()
      tab.session.stop()
      tab.session = world.tab(tab.device)
      tab.made = []
      lives.push(tab.made)
    } else if (chance < 84) tab.device.bus.take(tab.device.personId ?? '', dice.below(3))
    else if (chance < 87 && isUp) {
      epochs++
      await world.restart({ isKilled: dice.below(2) === 0, devices })
    } else if (chance < 89) {
      if (isUp) await world.down()
      else await world.up()
      isUp = !isUp
    }
    await world.clock.pass(dice.below(4) === 0 ? dice.below(4000) : dice.below(60))
  }
  if (!isUp) await world.up()
  for (const device of devices) world.mend(device)
  await world.clock.pass(20_000)
  note()

  expect(world.errors).toEqual([])
  const kept: string[] = []
  for (const entry of await world.entries()) kept.push(entry.opId)
  const made = lives.flat()
  // Kept once or refused with a reason: nothing lost, nothing doubled, nothing of a refused act in the store.
  expect(new Set(kept).size).toBe(kept.length)
  for (const id of made)
    expect([id, kept.includes(id), refused.has(id)]).toEqual([id, !refused.has(id), refused.has(id)])
  for (const findings of refused.values()) for (const { code } of findings) expect(hasSentence(code), code).toBe(true)
  for (const life of lives) {
    const positions = life.map((id) => kept.indexOf(id)).filter((position) => position >= 0)
    expect(positions).toEqual([...positions].sort((a, b) => a - b))
  }
  for (const { session, device } of tabs) {
    const role = world.lab.records.person.get(device.personId ?? '')?.role ?? 'wall'
    expect(session.shown.save.get()).toMatchObject({ state: 'kept', count: 0 })
    expect(session.shown.records.get()).toEqual(world.truthFor(role))
    session.stop()
  }
  for (const device of devices) for (const disk of device.disks.values()) expect(disk.waiting.size).toBe(0)
  await world.close()
  return { made: made.length, refused: refused.size, epochs }
}

describe('random histories end with every screen equal to the server', () => {
  for (let first = FIRST_SEED; first < FIRST_SEED + HISTORIES; first += PER_TEST) {
    const last = Math.min(first + PER_TEST, FIRST_SEED + HISTORIES) - 1
    it(`seeds ${first} to ${last}`, { timeout: 400_000 }, async () => {
      let [made, refused] = [0, 0]
      for (let seed = first; seed <= last; seed++) {
        try {
          const history = await play(seed)
          made += history.made
          refused += history.refused
        } catch (error) {
          throw new Error(
            `Seed ${seed} (TALUS_SEED=${seed} TALUS_HISTORIES=1): ${error instanceof Error ? error.message : error}`,
            {
              cause: error,
            },
          )
        }
      }
      // A history in which nothing happens, or nothing collides, would prove nothing.
      expect(made).toBeGreaterThan((last - first + 1) * 5)
      if (last - first >= 50) expect(refused).toBeGreaterThan(5)
    })
  }
})
