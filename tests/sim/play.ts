// Plays one history: real clients, gate, rooms and store contract over a simulated clock, network and disk. Everything
// follows from the seed and the acts that are played.
import { type Random, seededRandom } from '#lib/base'
import { type OpBody, type OpKind, opSchemas } from '#lib/ops'
import { kindNames, PersonId, put, type Records, type Role } from '#lib/words'
import { FakeClient } from '../kit/fake-client.ts'
import { fakeClock } from '../kit/fake-clock.ts'
import { NOW } from '../kit/makers.ts'
import { type Move, tightLab } from '../lib/ops/random-lab.ts'
import { opOf } from '../lib/ops/random-ops.ts'
import { type Found, judgeHistory } from './check.ts'
import { SimDisk } from './disk.ts'
import { type Device, House, LAB, type Tab } from './house.ts'
import { type Act, planOf } from './plan.ts'
import { marked, withMarks } from './secrets.ts'

export interface Played extends Found {
  readonly edits: number
  readonly faults: Readonly<Record<string, number>>
  /** Kinds of op that were sent to a server, and those it kept. */
  readonly kinds: { readonly made: readonly string[]; readonly kept: readonly string[] }
}

const allKinds = Object.keys(opSchemas) as OpKind[]
const often: readonly OpKind[] = [
  'claim',
  'seat',
  'post',
  'start',
  'finish',
  'unclaim',
  'unseat',
  'shelve',
  'hold',
  'watch',
]
const systemKinds: readonly OpKind[] = ['keepForecasts', 'noteOutlooks', 'beginDay']
const everybody = ['mira', 'pia', 'ana', 'ben', 'leo', 'rex', 'cleo']
const DAY_MS = 86_400_000
const TRIES_TO_WRITE = 4

/** Acts made on screens, by the life of the tab that made them. */
export interface Life {
  readonly device: Device
  readonly made: string[]
}

/** Plays a seed's history; `only` names the acts that are played, all when left out. */
export async function play(seed: number, only?: readonly number[]): Promise<Played> {
  const faults: Record<string, number> = {}
  const count = (fault: string) => {
    faults[fault] = (faults[fault] ?? 0) + 1
  }
  const dice = seededRandom(seed ^ 0x5eed)
  const clock = fakeClock(Date.parse(NOW))
  const disk = new SimDisk(clock, seededRandom(dice.word()), count)
  const founding = marked(tightLab())
  await disk.found(LAB, [foundingEntry(founding)])
  const house = new House(clock, disk, dice, count)
  await house.start(0)
  const first = dice.below(3)
  const devices = everybody.slice(first, first + 3 + dice.below(3)).map((who) => house.device(who))
  devices.push(house.device(null))
  const game: Game = {
    house,
    devices,
    tabs: devices.flatMap((device) => [device, ...(dice.below(4) === 0 ? [device] : [])].map((on) => house.tab(on))),
    lives: new Map(),
    raws: [],
    made: new Map(),
    fresh: 0,
    count,
  }
  await clock.pass(50)
  const plan = planOf(seed)
  for (const [index, act] of plan.entries()) if (!only || only.includes(index)) await doAct(game, act)
  await atRest(game)
  const found = await judgeHistory(game, founding)
  for (const tab of game.tabs) tab.session.stop()
  const entries = await disk.store.read(LAB, 1, 100_000)
  return {
    ...found,
    edits: game.made.size,
    faults,
    kinds: { made: [...new Set(game.made.values())], kept: [...new Set(entries.map(({ kind }) => kind))] },
  }
}

export interface Game {
  readonly house: House
  readonly devices: readonly Device[]
  readonly tabs: Tab[]
  /** Ids of acts in the order they were made, by tab. */
  readonly lives: Map<Tab, string[]>
  readonly raws: FakeClient[]
  /** Kind of every act that was made, by its id. */
  readonly made: Map<string, string>
  fresh: number
  readonly count: (fault: string) => void
}

function foundingEntry(records: Records) {
  const changes = kindNames.flatMap((kind) => [...records[kind].values()].map((record) => put(kind, record as never)))
  return { opId: 'found', kind: 'found', op: {}, personId: null, at: NOW, changes, subjects: [] }
}

function aMove(dice: Random, kinds: readonly OpKind[]): Move {
  const from = dice.below(2) === 0 ? often : kinds
  const list = from.some((kind) => kinds.includes(kind)) ? from : kinds
  return {
    kind: list[dice.below(list.length)] ?? 'watch',
    who: 0,
    picks: Array.from({ length: 10 }, () => dice.below(1000)),
  }
}

async function doAct(game: Game, { kind, seed }: Act): Promise<void> {
  const { house, devices, tabs, count } = game
  const dice = seededRandom(seed)
  const open = tabs.filter(({ isOpen }) => isOpen)
  const tab = open[dice.below(Math.max(1, open.length))]
  const device = devices[dice.below(devices.length)]
  if (!tab || !device) return
  switch (kind) {
    case 'edit': {
      for (let n = 1 + dice.below(3); n > 0; n--) edit(game, dice, tab)
      break
    }
    case 'raw':
      raw(game, dice)
      break
    case 'system': {
      const lab = house.serverOf({ serverAt: 0 })?.lab
      const when = lab?.when()
      const move = aMove(dice, systemKinds)
      const kindOf = systemKinds[dice.below(systemKinds.length)] ?? 'beginDay'
      const who = { personId: PersonId.parse('system'), role: 'system' } as const
      const op = lab && when ? opOf(lab.records, { ...move, kind: kindOf }, when, who, game.fresh++) : null
      if (!lab || !op) break
      game.made.set(op.id, op.kind)
      lab.submit(op, who).then(
        (answer) => {
          if (answer.ok) house.heard.kept.set(op.id, answer.seq)
          else house.heard.refused.set(op.id, answer.findings)
        },
        () => {},
      )
      break
    }
    case 'undo': {
      const done = tab.session.undo()
      if (done?.ok) note(game, tab, done.id, 'undo')
      break
    }
    case 'sheet': {
      const pieces = [...tab.session.shown.records.get().specimen.keys()]
      const piece = pieces[dice.below(Math.max(1, pieces.length))]
      if (piece) tab.session.openSheet(piece)
      break
    }
    case 'cut':
      count('cuts')
      device.isUp = dice.below(2) === 0
      house.cut(device)
      break
    case 'mend':
      device.isUp = true
      device.isPartitioned = false
      break
    case 'partition':
      count('partitions')
      device.isPartitioned = true
      break
    case 'reload': {
      count('reloads')
      tab.session.stop()
      tab.isOpen = false
      const next = house.tab(tab.device)
      tabs.push(next)
      break
    }
    case 'lead':
      device.bus.take(device.personId ?? '', dice.below(3))
      break
    case 'kill': {
      count('kills')
      await inTheMiddle(game, dice, open)
      const at = house.servers[1] && dice.below(2) === 0 ? 1 : 0
      house.kill(at)
      await house.clock.pass(dice.below(3) * dice.below(400))
      if (at === 0) await house.start(0)
      break
    }
    case 'power': {
      count('powerCuts')
      await inTheMiddle(game, dice, open)
      for (const at of [0, 1]) house.kill(at)
      await house.disk.fail()
      await house.clock.pass(dice.below(3000))
      await house.start(0)
      break
    }
    case 'full':
      house.disk.hurt(...Array<'full'>(1 + dice.below(4)).fill('full'))
      break
    case 'io':
      house.disk.hurt(dice.below(2) === 0 ? 'io' : 'answer-lost')
      break
    case 'second':
      if (house.servers[1] || !house.servers[0]) break
      count('secondServers')
      await house.start(1)
      for (const one of devices) {
        if (dice.below(2) === 0) continue
        one.serverAt = 1
        house.cut(one)
      }
      break
    case 'move':
      device.serverAt = 1 - device.serverAt
      house.cut(device)
      break
    case 'sleep':
      count('sleeps')
      house.cut(device)
      device.isUp = false
      await house.clock.leap(1 + dice.below(2 * DAY_MS))
      break
    case 'jump':
      count('clockJumps')
      house.clock.jump((dice.below(3) - 1) * dice.below(6 * 3_600_000))
      break
    case 'skew':
      count('clockSkews')
      device.skewMs = (dice.below(3) - 1) * dice.below(DAY_MS)
      break
    default: {
      const missing: never = kind
      throw new Error(`No act for ${missing}`)
    }
  }
  await house.clock.pass(dice.below(5) === 0 ? dice.below(3000) : dice.below(50))
}

/** Lets edits be on their way, to the server or half written to the disk, when something happens. */
async function inTheMiddle(game: Game, dice: Random, tabs: readonly Tab[]): Promise<void> {
  const isAnywhere = dice.below(3) === 0
  // Many edits are refused, or are made where nobody is connected: none of them is ever written.
  for (let tries = 0; tries < (isAnywhere ? 1 : TRIES_TO_WRITE); tries++) {
    for (const tab of tabs) if (dice.below(2) === 0) edit(game, dice, tab)
    if (isAnywhere) await game.house.clock.pass(dice.below(60))
    else if (await game.house.disk.passIntoWrite(80)) return
  }
}

function note(game: Game, tab: Tab, id: string, kind: string): void {
  game.made.set(id, kind)
  const life = game.lives.get(tab) ?? []
  life.push(id)
  game.lives.set(tab, life)
}

/** Something that a person may think of, from what their own screen shows. */
function edit(game: Game, dice: Random, tab: Tab): void {
  const who = tab.session.shown.who.get()
  if (!who?.personId) return
  const move = aMove(dice, allKinds)
  const me = { personId: who.personId, role: who.role }
  const op = opOf(tab.session.shown.records.get(), move, tab.session.now(), me, game.fresh++)
  if (!op) return
  const { id: _, ...body } = withMarks(op)
  // Without its id, an op is what a screen says.
  const done = tab.session.act(body as OpBody)
  if (done.ok) note(game, tab, done.id, op.kind)
}

/** An op straight onto a wire, asked of nobody before. */
function raw(game: Game, dice: Random): void {
  const { house, raws } = game
  const server = house.serverOf({ serverAt: dice.below(2) })
  if (!server) return
  const { lab } = server
  const people = [...lab.records.person.values()].filter(({ isActive }) => isActive)
  const person = people[dice.below(people.length)]
  if (!person) return
  const me: { personId: PersonId; role: Role } = { personId: person.id, role: person.role }
  const client = new FakeClient({ id: `raw${raws.length}`, personId: person.id }, 'board', house.clock, () =>
    dice.below(9),
  )
  raws.push(client)
  client.connect(lab)
  for (let n = 1 + dice.below(3); n > 0; n--) {
    const op = opOf(lab.records, aMove(dice, allKinds), lab.when(), me, game.fresh++)
    if (!op) continue
    game.made.set(op.id, op.kind)
    client.act(withMarks(op))
    // The same again, before there is an answer.
    if (dice.below(3) === 0) {
      game.count('doubledOps')
      client.say({ type: 'ops', ops: [withMarks(op)] })
    }
  }
}

/** All faults end; everybody comes back and has the time it takes. */
async function atRest({ house, devices }: Game): Promise<void> {
  house.disk.heal()
  house.doublesPct = 0
  house.tornPct = 0
  if (!house.servers[0]) await house.start(0)
  for (const device of devices) {
    device.isUp = true
    device.isPartitioned = false
    device.skewMs = 0
  }
  // Longer than a line that was closed for good waits before it tries again, and than a server overlooks a new date.
  await house.clock.pass(70_000)
}
