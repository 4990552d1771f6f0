// What a lab starts from: the demo lab from its seed, or an empty lab with the trade's technique ladder, published
// action values and one manager to be. Written to the store as the first entries of its history, all or nothing.
import { localAt } from '#lib/base'
import { type Change, Lab, PersonId, put, type RecordOf, usualLimits, usualWeights } from '#lib/words'
import { type DemoPhoto, demoForecasts, demoPhotographs, demoRecords, demoTechniques } from '../demo/index.ts'
import { freshId } from './fresh-id.ts'
import type { Entry, Store } from './store/contract.ts'
import type { Chance, Clock } from './world.ts'

const DEMO_SEED = 20
/** Changes of one entry: keeps each row of the history readable. */
const CHANGES_PER_ENTRY = 2000

export interface World {
  readonly clock: Clock
  readonly chance: Chance
}

/** Makes the demo lab, with photographs where `keepPhotos` paints and keeps them; answers its id. */
export async function foundDemo(
  store: Store,
  world: World,
  zone: string,
  scale: number,
  keepPhotos: (wanted: readonly DemoPhoto[]) => Promise<readonly Change[]> = async () => [],
): Promise<string> {
  const today = localAt(zone, world.clock.now()).date
  const records = demoRecords({ seed: DEMO_SEED, today, scale, zone })
  // They are painted while the forecasts are gone through.
  const photos = keepPhotos(demoPhotographs(records, zone, today))
  // A larger lab is there to be measured: its past is learnt from as it is opened, without what it forecast.
  const forecasts = scale === 1 ? demoForecasts(records) : []
  return found(store, world, 'demo', [...records, ...forecasts, ...(await photos)])
}

/** Makes an empty lab with one manager who has not joined yet; answers its id. */
export function foundLab(store: Store, world: World, zone: string, name: string): Promise<string> {
  const today = localAt(zone, world.clock.now()).date
  return found(store, world, 'lab', [
    put('lab', emptyLab(name, zone)),
    put('room', {
      id: 'room',
      widthM: 10,
      depthM: 7,
      partitions: [],
      doors: [],
      windows: [],
      compressor: null,
      racks: [],
    }),
    put('person', firstManager(PersonId.parse(freshId(world)), today)),
  ])
}

async function found(store: Store, world: World, kind: string, changes: readonly Change[]): Promise<string> {
  const labId = `${kind}-${freshId(world)}`
  const at = new Date(world.clock.now()).toISOString()
  const entries: Entry[] = []
  for (let from = 0; from < changes.length; from += CHANGES_PER_ENTRY) {
    entries.push({
      opId: freshId(world),
      kind: 'found',
      op: { kind: 'found' },
      personId: null,
      at,
      changes: changes.slice(from, from + CHANGES_PER_ENTRY),
      subjects: [],
    })
  }
  const appended = await store.append(labId, 0, entries)
  if (!appended.ok) throw new Error('Believed: a new lab has no history')
  return labId
}

function firstManager(id: PersonId, today: string): RecordOf<'person'> {
  return {
    id,
    name: 'Manager',
    familyName: '',
    role: 'manager',
    skills: [],
    pattern: [],
    exceptions: [],
    loves: [],
    since: today,
    isActive: true,
    hasJoined: false,
  }
}

function emptyLab(name: string, zone: string): RecordOf<'lab'> {
  const weekdays = [1, 2, 3, 4, 5]
  // Tool figures are the lab's to measure: what is not known is not planned with.
  const unknown = { vibrationMs2: null, vibrationSource: '', noiseDba: null, noiseSource: '' }
  const techniques = demoTechniques('2000-01-01').map((technique) => ({ ...technique, ...unknown }))
  return Lab.parse({
    id: 'lab',
    name,
    zone,
    jurisdiction: 'other',
    shifts: [
      { id: 'morning', name: 'Morning', start: '09:30', end: '12:30', weekdays },
      { id: 'afternoon', name: 'Afternoon', start: '13:30', end: '16:30', weekdays },
    ],
    techniques,
    compressor: { deliveryLpm: 0, dutyPct: 60 },
    limits: usualLimits,
    weights: usualWeights,
    riskBelowTenths: 7,
    closed: [],
    safetyContact: '',
    isDemo: false,
    setUp: [],
  })
}
