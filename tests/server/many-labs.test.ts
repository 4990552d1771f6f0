// Labs that are opened when asked for and rest when nobody is there, over labs that only say what was done with them.
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { manyLabs, type Restful } from '../../server/many-labs.ts'
import { fakeClock } from '../kit/fake-clock.ts'

const REST_MS = 60_000

interface FakeLab extends Restful {
  readonly name: string
  state: 'made' | 'opening' | 'open' | 'closing' | 'closed'
  people: number
}

/** A row of names that have labs; what is in `broken` cannot be opened, and opening or closing takes a while. */
function aRow({ awakeMax = 3, broken = new Set<string>(), tookMs = 100 } = {}) {
  const clock = fakeClock()
  const made: FakeLab[] = []
  const said: string[] = []
  const pass = () => new Promise<void>((done) => clock.after(tookMs, done))
  const labs = manyLabs<FakeLab>({
    ...{ clock, restMs: REST_MS, awakeMax },
    log: (_level, what, facts) => said.push(`${facts?.lab}: ${what}`),
    has: (name) => !name.startsWith('no-'),
    make(name) {
      const lab: FakeLab = {
        ...{ name, state: 'made', people: 0 },
        async enter() {
          // Two that have one lab open at once would both write to it.
          expect(made.filter((one) => one.name === name && one.state !== 'closed')).toEqual([lab])
          lab.state = 'opening'
          await pass()
          if (broken.has(name)) throw new Error('its disk is broken')
          lab.state = 'open'
        },
        async close() {
          lab.state = 'closing'
          await pass()
          lab.state = 'closed'
        },
        labId: () => name,
        open: () => (lab.state === 'open' ? ({} as ReturnType<Restful['open']>) : null),
        elsewhere: () => null,
        isReady: () => lab.state === 'open',
        arePhotosWell: () => true,
        connect: () => {},
        connections: () => lab.people,
      }
      made.push(lab)
      return lab
    },
  })
  /** Asks for a lab; answers whether it is open, or that there is none. */
  const ask = async (name: string) => {
    const lab = await labs.lab(name)
    return lab === null ? 'none' : lab.open() !== null
  }
  const open = () => made.filter(({ state }) => state === 'open').map(({ name }) => name)
  const last = (name: string) => {
    const lab = made.findLast((one) => one.name === name)
    if (!lab) throw new Error(`${name} was never made`)
    return lab
  }
  return { clock, labs, made, said, ask, open, last }
}

/** What a promise comes to while the clock goes on. */
async function meanwhile<T>(
  clock: ReturnType<typeof fakeClock>,
  ms: number,
  promise: Promise<T>,
): Promise<T | 'waits'> {
  await clock.pass(ms)
  return Promise.race([promise, Promise.resolve('waits' as const)])
}

describe('a lab among many', () => {
  it('is opened once for all who ask, and they wait for it', async () => {
    const { clock, ask, made } = aRow()
    const both = [ask('west'), ask('west')]
    expect(await meanwhile(clock, 50, Promise.race(both))).toBe('waits')
    expect(await meanwhile(clock, 100, Promise.all(both))).toEqual([true, true])
    expect(made.length).toBe(1)
  })

  it('is none where there is none, and costs nothing', async () => {
    const { ask, made } = aRow()
    expect(await ask('no-such')).toBe('none')
    expect(made).toEqual([])
  })

  it('rests when nobody was there for a while, not while somebody is, and opens again', async () => {
    const { clock, ask, open, last, made } = aRow()
    void ask('west')
    void ask('east')
    await clock.pass(200)
    last('west').people = 1
    await clock.pass(3 * REST_MS)
    expect(open()).toEqual(['west'])
    last('west').people = 0
    await clock.pass(2 * REST_MS)
    expect(open()).toEqual([])
    expect(await meanwhile(clock, 200, ask('west'))).toBe(true)
    expect(made.length).toBe(3)
  })

  it('stays open while a request is being answered, however long that takes', async () => {
    const { clock, labs, open } = aRow()
    const asked = labs.lab('west')
    await clock.pass(200)
    const over = (await asked)?.use()
    await clock.pass(5 * REST_MS)
    expect(open()).toEqual(['west'])
    over?.()
    over?.()
    await clock.pass(2.5 * REST_MS)
    expect(open()).toEqual([])
  })

  it('asked for while it is being closed, is opened again behind that', async () => {
    const { clock, ask, made, last } = aRow({ tookMs: 1000 })
    void ask('west')
    await clock.pass(1000)
    for (let step = 0; step < 400 && last('west').state !== 'closing'; step++) await clock.pass(500)
    expect(last('west').state).toBe('closing')
    const asked = ask('west')
    expect(await meanwhile(clock, 500, asked)).toBe('waits')
    expect(await meanwhile(clock, 2000, asked)).toBe(true)
    expect(made.map(({ state }) => state)).toEqual(['closed', 'open'])
  })

  it('that cannot be opened says so alone, is not tried at each request, and is well once its trouble is over', async () => {
    const broken = new Set(['west'])
    const { clock, ask, said, made } = aRow({ broken })
    expect(await meanwhile(clock, 200, Promise.all([ask('west'), ask('east')]))).toEqual([false, true])
    expect(await ask('west')).toBe(false)
    expect(made.length).toBe(2)
    expect(said).toEqual(['west: a lab could not be opened; the others are not concerned'])
    broken.clear()
    await clock.pass(12_000)
    expect(await meanwhile(clock, 200, ask('west'))).toBe(true)
  })

  it('of which too many are open sends the one that was quiet longest to rest, and nobody who is busy', async () => {
    const { clock, ask, open, last, said } = aRow({ awakeMax: 2 })
    expect(await meanwhile(clock, 200, ask('a'))).toBe(true)
    await clock.pass(1000)
    expect(await meanwhile(clock, 200, ask('b'))).toBe(true)
    await clock.pass(10_000)
    expect(await meanwhile(clock, 400, ask('c'))).toBe(true)
    expect(open().sort()).toEqual(['b', 'c'])
    last('b').people = 1
    last('c').people = 1
    await clock.pass(10_000)
    expect(await meanwhile(clock, 400, ask('d'))).toBe(false)
    expect(open().sort()).toEqual(['b', 'c'])
    expect(said).toEqual(['d: a lab stays at rest: as many as may be are open, and busy'])
  })

  it('is closed with all others at the end, also while it is being opened', async () => {
    const { clock, ask, made, labs } = aRow()
    void ask('a')
    await clock.pass(200)
    void ask('b')
    const closed = labs.close()
    await clock.pass(1000)
    await closed
    expect(made.map(({ state }) => state)).toEqual(['closed', 'closed'])
    expect(await ask('a')).toBe(false)
  })

  it('is never open twice, never closed under anybody, and never one of too many, whatever people do', async () => {
    const names = ['a', 'b', 'c', 'd', 'e'] as const
    const act = fc.record({
      name: fc.constantFrom(...names),
      what: fc.constantFrom('ask', 'stay', 'go'),
      waitMs: fc.constantFrom(0, 30, 3000, 20_000, 90_000),
    })
    await fc.assert(
      fc.asyncProperty(fc.array(act, { maxLength: 40 }), async (acts) => {
        const { clock, labs, open, made } = aRow({ awakeMax: 3 })
        for (const { name, what, waitMs } of acts) {
          const lab = made.findLast((one) => one.name === name)
          if (what === 'go' && lab) lab.people = 0
          else
            void labs.lab(name).then((found) => {
              const now = made.findLast((one) => one.name === name)
              if (what === 'stay' && now && found?.open()) now.people = 1
            })
          await clock.pass(waitMs)
          expect(open().length).toBeLessThanOrEqual(3)
          expect(made.filter(({ state, people }) => people > 0 && state !== 'open')).toEqual([])
        }
        await clock.pass(1000)
        await Promise.all([labs.close(), clock.pass(1000)])
        expect(made.filter(({ state }) => state !== 'closed')).toEqual([])
      }),
      { numRuns: 300 },
    )
  })
})
