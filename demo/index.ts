// An invented preparation lab as records: a room, a crew, jackets and specimens, a year of work behind it, and a
// morning that waits for its line-up. Same seed, same day, same lab; the day decides all dates.
import { addDays, weekdayOf } from '#lib/base'
import { type Change, usualLimits, usualWeights } from '#lib/words'
import { demoCustody } from './custody.ts'
import { demoDates } from './dates.ts'
import { type Draft, dice, record } from './dice.ts'
import { demoTray } from './fragments.ts'
import { demoInduction, demoPaths } from './learning.ts'
import { demoClocks, demoMaterials } from './materials.ts'
import { demoPeople, weekdayIn } from './people.ts'
import { demoPieces } from './pieces.ts'
import { demoPlaces, demoRoom } from './room.ts'
import { demoSafety } from './safety.ts'
import { demoTechniques } from './techniques.ts'
import { demoToday } from './today.ts'
import { writeYear } from './written.ts'
import { replayYear } from './year.ts'

export { demoForecasts } from './forecasts.ts'
export { type DemoPhoto, demoPhotographs, paint, type Sketch } from './photographs.ts'
export { demoTechniques } from './techniques.ts'

export interface DemoOptions {
  readonly seed: number
  /** The lab's local date on which the demo is first opened. */
  readonly today: string
  /** 1 is the demo; 10 and 100 have so many times its jackets and specimens, and the square root of its crew and places. */
  readonly scale?: number
  /** IANA zone of the lab; UTC when not given. */
  readonly zone?: string
}

/** All records of the demo lab, as puts, each passed by its schema. */
export function demoRecords({ seed, today, scale = 1, zone = 'UTC' }: DemoOptions): readonly Change[] {
  const chance = dice(seed)
  const grow = Math.sqrt(scale)
  const rooms = Math.ceil(grow)
  const lab = demoLab(today, zone, rooms)
  const places = demoPlaces(rooms, addDays(today, 4))
  const people = demoPeople(Math.round(26 * grow), today, chance)
  const sizes = { jackets: 150 * scale, specimens: 40 * scale, active: Math.round(40 * grow) }
  const projects = demoPieces(sizes, today, chance)
  const year = replayYear({ lab, places, people, projects }, today, chance)
  const written = writeYear(projects, year, { lab, places, today }, chance)
  const dates = demoDates(written, { lab, people, today }, chance)
  return [
    record('lab', lab),
    record('room', demoRoom(rooms)),
    ...places.map((place) => record('place', place)),
    ...people.map((person) => record('person', person)),
    ...written.changes,
    ...demoCustody(
      written.changes,
      people.filter((one) => one.role === 'preparator').map((one) => one.id),
      today,
    ),
    ...dates,
    ...demoToday(written, { lab, people, today }, chance),
    ...demoMaterials(zone, today),
    ...demoClocks(written.changes, zone, today),
    ...demoSafety({ lab, today }),
    ...demoTray([...written.changes, ...dates], zone, today, dice(seed + 7)),
  ]
}

function demoLab(today: string, zone: string, rooms: number): Draft<'lab'> {
  // Closed on the third day from today, so that whoever opens the demo finds yesterday, today and tomorrow worked.
  const open = [1, 2, 3, 4, 5, 6, 7].filter((weekday) => weekday !== weekdayIn(today, 3))
  const late = [weekdayOf(today), weekdayIn(today, 4)]
  return {
    id: 'lab',
    name: 'Grindle Yard Preparation Lab',
    zone,
    jurisdiction: 'eu',
    shifts: [
      { id: 'morning', name: 'Morning', start: '09:30', end: '12:30', weekdays: open },
      { id: 'afternoon', name: 'Afternoon', start: '13:15', end: '16:15', weekdays: open },
      { id: 'evening', name: 'Evening', start: '17:00', end: '19:30', weekdays: late },
    ],
    techniques: [...demoTechniques(addDays(today, -141))],
    compressor: { deliveryLpm: 500 * rooms, dutyPct: 60 },
    limits: usualLimits,
    weights: usualWeights,
    riskBelowTenths: 7,
    induction: demoInduction(today),
    paths: demoPaths,
    closed: [addDays(today, 24)],
    safetyContact: 'Site safety officer, Grindle Yard, extension 40',
    isDemo: true,
    setUp: ['room', 'shifts', 'compressor', 'people', 'jackets'],
  }
}
