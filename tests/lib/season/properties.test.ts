// What holds in every season, on ten thousand random small labs: calendars, order and rules; more never hurts beyond a
// stated tolerance; equal seeds, equal answers. `TALUS_SEED=n` begins elsewhere.
import { describe, expect, it } from 'vitest'
import { addDays } from '#lib/base'
import { createRunner, emptyTally, planSeason, playSeason, runFutures, storyOf } from '#lib/season'
import { PersonId, PlaceId, type Records } from '#lib/words'
import { check } from './check-season.ts'
import { FROM, randomSeason, WEEKS } from './random-season.ts'

const START = Number(process.env.TALUS_SEED ?? 1)
const seeds = (count: number, from: number) => Array.from({ length: count }, (_, i) => START * 1_000_000 + from + i)
/** The search for an order takes most of the time, and changes nothing that is asked here; some have it. */
const options = (seed: number) => ({
  seq: 0,
  from: FROM,
  weeks: WEEKS,
  futures: 40,
  seed,
  candidates: seed % 20 === 0 ? 6 : 0,
})

describe(`random seasons from seed ${START}`, { timeout: 600_000 }, () => {
  it('keep every calendar, order of steps, level, seat and hour', () => {
    let turns = 0
    let ready = 0
    for (const seed of seeds(9000, 0)) {
      const records = randomSeason(seed)
      const planned = planSeason(records, options(seed))
      const story = storyOf(planned, seed % 7)
      turns += story.turns.length
      ready += story.readyOn.size
      expect(check(records, story, seed % 10 === 0), `seed ${seed}`).toEqual([])
    }
    // The labs are not so odd that nothing happens in them.
    expect(turns).toBeGreaterThan(40_000)
    expect(ready).toBeGreaterThan(2_000)
  })

  it('do not lose a date to more hands, more seats or a later day, beyond what a list schedule may', () => {
    // A list schedule can do worse with more (Graham 1969: another order of finishing shifts what comes after), so a
    // single date may lose in some labs. Of 9 981 changes 6 lost more than 0.05, the worst 0.525, and 293 gained.
    let changes = 0
    let lost = 0
    for (const seed of seeds(600, 10_000)) {
      const records = randomSeason(seed)
      const { chances, more } = withMore(records, options(seed))
      for (const [id, before] of chances) {
        for (const after of more) {
          changes++
          const loss = before - (after.get(id) ?? 0)
          if (loss > 0.05) lost++
          expect(loss, `seed ${seed}, ${id}`).toBeLessThanOrEqual(0.6)
        }
      }
    }
    expect(changes).toBeGreaterThan(2000)
    expect(lost / changes).toBeLessThan(0.005)
  })

  it('come to the same on one thread or on two, whichever runs a future', () => {
    for (const seed of seeds(100, 30_000)) {
      const { season, order } = planSeason(randomSeason(seed), options(seed))
      const { model } = season
      const counted = (...shares: readonly (readonly [number, number])[]) => {
        const tallies = shares.map(([from, to]) => {
          const tally = emptyTally(model)
          runFutures({ model, order, runner: createRunner(model, order) }, tally, { seed, from, to })
          return tally
        })
        return tallies[0]?.finish.map((_, bin) => tallies.reduce((sum, { finish }) => sum + (finish[bin] ?? 0), 0))
      }
      expect(counted([0, 30]), `seed ${seed}`).toEqual(counted([17, 30], [0, 17]))
    }
  })

  it('are the same for the same seed', () => {
    for (const seed of seeds(200, 20_000)) {
      const records = randomSeason(seed)
      const play = () => playSeason(planSeason(records, options(seed)), options(seed))
      expect(play(), `seed ${seed}`).toEqual(play())
    }
  })
})

type Options = ReturnType<typeof options>

/** Chances of a lab's dates, and again with one more pair of hands, with a second one of each place, with later dates. */
function withMore(records: Records, asked: Options) {
  const chancesOf = (of: Records) => {
    const { dates } = playSeason(planSeason(of, asked), asked)
    return new Map(dates.map(({ dueId, chance }) => [dueId, chance]))
  }
  const helper = [...records.person.values()][0]
  const person = new Map(records.person)
  if (helper) person.set('zz', { ...helper, id: PersonId.parse('zz') })
  const place = new Map(records.place)
  for (const one of records.place.values()) place.set(`${one.id}-zz`, { ...one, id: PlaceId.parse(`${one.id}-zz`) })
  const due = new Map([...records.due].map(([id, one]) => [id, { ...one, date: addDays(one.date, 7) }]))
  return {
    chances: chancesOf(records),
    more: [chancesOf({ ...records, person }), chancesOf({ ...records, place }), chancesOf({ ...records, due })],
  }
}
