// Seasons in their own threads: asked over and over they cost nothing, a newer question takes over, and nobody hears
// what is not for them.
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { SeasonAnswer } from '#lib/season'
import { noRecords, PersonId, type Role, withChanges } from '#lib/words'
import { demoRecords } from '../../../demo/index.ts'
import { createSeasons, type SeasonThreads, seasonAsks, seasonThreads } from '../../../server/season/index.ts'
import { bundle } from '../../kit/store-worker.ts'

const today = '2026-03-12'
const records = withChanges(noRecords(), demoRecords({ seed: 20, today }))
const faults: string[] = []
let seasons: ReturnType<typeof createSeasons>
let threads: SeasonThreads

beforeAll(async () => {
  const worker = await bundle('server/season/worker.ts', 'season-worker')
  threads = seasonThreads({ worker, threads: 1, ceilingMs: 300_000 })
  seasons = createSeasons({ log: (_level, what) => faults.push(what), threads })
}, 60_000)
afterAll(() => threads.close())

const moment = (seq: number) => ({ seq, date: today, minute: 8 * 60 })

/** All answers to the question as somebody of that role hears them. */
async function asked(role: Role, id: string, what: string, body: unknown, seq = 1): Promise<unknown[]> {
  const table = seasonAsks(seasons)
  const asker = table[what]
  if (!asker) throw new Error(`no ${what}`)
  const answers: unknown[] = []
  const who = { personId: PersonId.parse(id), role }
  const when = { at: `${today}T08:00:00.000Z`, ...moment(seq) }
  const stream = asker(body, { who, when, look: () => ({ seq, records }), signal: new AbortController().signal })
  for (;;) {
    const { value, done } = await stream.next()
    answers.push(value)
    if (done) return answers
  }
}

const seasonOf = (answers: readonly unknown[]): SeasonAnswer => {
  const last = answers.at(-1)
  if (typeof last !== 'object' || last === null || !('kind' in last))
    throw new Error(`no season: ${JSON.stringify(last)}`)
  return last as SeasonAnswer
}

describe('season threads', { timeout: 300_000 }, () => {
  it('answer a manager with every date, piece, load and plan, and keep the answer', async () => {
    const season = seasonOf(await asked('manager', 'thea', 'season', {}))
    expect(season).toMatchObject({ seq: 1, isWhole: true, from: today })
    expect(season.dates.length).toBeGreaterThan(5)
    expect(season.load.length).toBeGreaterThan(10)
    expect(season.plan.length).toBeGreaterThan(50)
    const [again, ...more] = await asked('manager', 'thea', 'season', {})
    expect(more).toEqual([])
    expect(again).toEqual(season)
  })

  it('tell what is kept at once when something was edited, and then the newer season', async () => {
    const answers = (await asked('preparator', 'zosia', 'season', {}, 2)) as SeasonAnswer[]
    expect(answers[0]).toMatchObject({ seq: 1, isWhole: false })
    expect(answers.at(-1)).toMatchObject({ seq: 2, isWhole: true })
  })

  it('let a newer question take over from an older one', async () => {
    const heard: SeasonAnswer[] = []
    await new Promise<void>((resolve) => {
      const tell = (answer: unknown, isLast: boolean) => {
        heard.push(answer as SeasonAnswer)
        if (isLast) resolve()
      }
      seasons.start(records, { what: 'season' }, moment(3), tell)
      seasons.start(records, { what: 'season' }, moment(4), () => {})
    })
    expect(heard.at(-1)).toMatchObject({ seq: 4, isWhole: true })
  })

  it('tell a researcher of their own pieces alone, and a volunteer nothing of the plan', async () => {
    const own = seasonOf(await asked('researcher', 'ulrich', 'season', {}, 4))
    const followed = [...records.watch.values()]
      .filter(({ personId }) => personId === 'ulrich')
      .map((one) => one.pieceId)
    expect(own.dates.length).toBeGreaterThan(0)
    for (const { pieceId } of own.dates) expect(followed).toContain(pieceId)
    for (const { pieceId } of own.pieces) expect(followed).toContain(pieceId)
    expect([own.load, own.plan, own.jackets, own.assumed.renewals]).toEqual([[], [], [], []])
    const crew = seasonOf(await asked('volunteer', 'amara', 'season', {}, 4))
    expect(crew.dates.length).toBeGreaterThan(5)
    expect([crew.load, crew.plan]).toEqual([[], []])
  })

  it('stream what would help, and answer a promise, to those who may ask', async () => {
    const [due] = seasonOf(await asked('manager', 'thea', 'season', {}, 4)).dates
    const helped = await asked('preparator', 'zosia', 'helps', { dueId: due?.dueId }, 4)
    expect(helped.length).toBeGreaterThan(2)
    expect(helped.at(-1)).toMatchObject({ kind: 'helps', dueId: due?.dueId })
    expect(await asked('volunteer', 'amara', 'helps', { dueId: due?.dueId }, 4)).toEqual([{ refused: 'not-allowed' }])
    const body = (pieceId: string) => ({ pieceId, date: '2026-05-01' })
    const watched = [...records.watch.values()].filter(({ personId }) => personId === 'ulrich')
    const own = await asked('researcher', 'ulrich', 'promise', body(watched[0]?.pieceId ?? ''), 4)
    expect(own.at(-1)).toMatchObject({ kind: 'promise', others: [] })
    const strange = [...records.specimen.keys()].find((id) => !watched.some(({ pieceId }) => pieceId === id)) ?? ''
    expect(await asked('researcher', 'ulrich', 'promise', body(strange), 4)).toEqual([{ refused: 'not-allowed' }])
  })

  it('refuse the wall, and a form that is none', async () => {
    expect(await asked('wall', 'wall', 'season', {})).toEqual([{ refused: 'not-allowed' }])
    expect(await asked('manager', 'thea', 'season', { date: 7 })).toEqual([{ refused: 'form' }])
    expect(faults).toEqual([])
  })
})
