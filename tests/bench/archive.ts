// Searching a large archive: how long a page of results takes, for the questions people type, letter by letter.

import { seededRandom } from '#lib/base'
import { put, type RecordOf } from '#lib/words'
import { openLibsql } from '../../server/store/libsql.ts'
import { aRestingRecord } from '../kit/fake-lab.ts'
import { aJacket } from '../kit/makers.ts'
import { dataFolder, storeWorker } from '../kit/store-worker.ts'
import { Histogram } from './histogram.ts'
import { option } from './rig.ts'

const BATCH = 2_000
const parts = ['rib', 'vertebra', 'skull', 'femur', 'humerus', 'tooth', 'scute', 'jaw', 'pelvis', 'tail', 'foot', 'egg']
const said = [
  'consolidated',
  'joined',
  'cleaned',
  'needle along',
  'gap filled at',
  'crack below',
  'photographed',
  'turned',
]
const beds = ['upper marl', 'lower marl', 'red clay', 'bone bed', 'grey silt', 'oyster bank']
const sites = Array.from({ length: 60 }, (_, i) => `quarry ${i + 1} ${['north', 'south', 'east', 'west'][i % 4]} face`)

/** `npm run -s bench -- archive [--records 1000000] [--searches 400] [--seed 1]` */
export async function run(args: readonly string[]): Promise<number> {
  const records = Number(option(args, 'records', '1000000'))
  const searches = Number(option(args, 'searches', '400'))
  const random = seededRandom(Number(option(args, 'seed', '1')))
  const one = (list: readonly string[]): string => list[random.below(list.length)] ?? ''
  const store = await openLibsql({ folder: dataFolder(), worker: await storeWorker() })
  const began = performance.now()
  let seq = 0
  for (let from = 0; from < records; from += BATCH) {
    const changes = Array.from({ length: Math.min(BATCH, records - from) }, (_, i) =>
      put('resting', resting(from + i, one)),
    )
    const entry = {
      opId: `rest-${from}`,
      kind: 'rest',
      op: {},
      personId: null,
      at: '2026-03-12T08:00:00.000Z',
      subjects: [],
    }
    const appended = await store.append('bench', seq, [{ ...entry, changes }])
    if (!appended.ok) throw new Error('Not appended')
    seq = appended.seq
    if (from % 100_000 === 0) console.error(`${from} at rest`)
  }
  const seconds = (performance.now() - began) / 1000
  const times = new Histogram()
  const slow: [number, string][] = []
  for (let i = 0; i < searches; i++) {
    const text = question(random, one, records)
    const from = performance.now()
    const { found } = await store.search('bench', {
      text,
      kind: random.below(3) === 0 ? 'jacket' : null,
      limit: 30,
      offset: 0,
    })
    const ms = performance.now() - from
    times.add(ms)
    slow.push([ms, `${text} (${found.length})`])
  }
  slow.sort(([a], [b]) => b - a)
  for (const [ms, text] of slow.slice(0, 5)) console.error(`${ms.toFixed(1)} ms: ${text}`)
  await store.close()
  const [searchP50Ms, searchP95Ms] = [times.at(0.5), times.at(0.95)]
  console.log(JSON.stringify({ records, searchP50Ms, searchP95Ms, fillSeconds: Math.round(seconds) }))
  return 0
}

function resting(n: number, one: (list: readonly string[]) => string): RecordOf<'resting'> {
  const year = 1950 + (n % 75)
  const jacket = aRestingRecord(
    aJacket({
      id: `r${n}`,
      fieldNumber: `TL-${year}/${n}`,
      contents: `${one(parts)} and ${one(parts)}`,
      locality: one(sites),
      horizon: one(beds),
      collector: `collector ${n % 300}`,
    }),
  )
  return { ...jacket, found: sheetWords(n, one) }
}

/** As much as a Sheet of some dozens of entries leaves: people, days, a taxon, what was written. */
function sheetWords(n: number, one: (list: readonly string[]) => string): string {
  const day = (i: number) =>
    `2026-${String(1 + ((n + i) % 12)).padStart(2, '0')}-${String(1 + ((n * 7 + i) % 28)).padStart(2, '0')}`
  const written = Array.from({ length: 12 }, () => `${one(said)} ${one(parts)} ${one(beds)}`)
  return [`preparator ${n % 40}`, `taxon ${n % 900}`, day(0), day(3), day(9), ...written, `store ${n % 25}`].join(' ')
}

/** As typed: a number, a word, two words, each perhaps unfinished. */
function question(
  random: ReturnType<typeof seededRandom>,
  one: (list: readonly string[]) => string,
  records: number,
): string {
  const unfinished = (word: string) => word.slice(0, 2 + random.below(word.length - 1))
  switch (random.below(5)) {
    case 0: {
      const n = random.below(records)
      return `TL-${1950 + (n % 75)}/${n}`
    }
    case 1:
      return unfinished(one(parts))
    case 2:
      return `${one(parts)} ${unfinished(one(sites))}`
    case 3:
      return `${one(beds)} ${unfinished(one(parts))} ${1950 + random.below(75)}`
    default:
      return `${unfinished(one(parts))} collector ${random.below(300)}`
  }
}
