// The crew's notes read into people: skills with their sign-offs, weekly patterns, days away.
import { addDays, assert, weekdayOf } from '#lib/base'
import { crew } from './crew.ts'
import type { Dice, Draft } from './dice.ts'
import { demoLearning } from './learning.ts'

type Person = Draft<'person'>

const shortTechnique: Readonly<Record<string, string>> = {
  fine: 'fine-scribe',
  heavy: 'heavy-scribe',
  stiff: 'stiff-brush',
  resin: 'consolidating',
  fill: 'filling',
  records: 'documentation',
}

const shiftOf: Readonly<Record<string, string>> = { m: 'morning', a: 'afternoon', e: 'evening' }
/** Skills that are bound to a yearly renewal. */
const renewed: readonly string[] = ['abrasion', 'acid', 'turning']

/** ISO weekday so many days after today. */
export const weekdayIn = (today: string, days: number): number => weekdayOf(addDays(today, days))

/** The crew, repeated with other names in a larger lab. */
export function demoPeople(count: number, today: string, chance: Dice): Person[] {
  const people: Person[] = []
  for (let i = 0; i < count; i++) {
    const sketch = crew[i % crew.length]
    assert(sketch, 'every index has a sketch')
    const round = Math.floor(i / crew.length)
    const name = round === 0 ? sketch.name : `${sketch.name} ${romanOf(round + 1)}`
    const since = addDays(today, -Math.round(sketch.years * 365.25) - chance.between(0, 40))
    const person: Person = {
      id: name.toLowerCase().replaceAll(' ', '-'),
      name,
      familyName: sketch.family,
      role: round > 0 && sketch.role === 'manager' ? 'preparator' : sketch.role,
      skills: skillsOf(sketch.skills, sketch.role === 'manager', since, today, chance),
      pattern: halfDays(sketch.comes, round).map(({ day, shiftId }) => ({ weekday: weekdayIn(today, day), shiftId })),
      exceptions:
        sketch.role === 'volunteer' && chance.happens(45) ? awayFor(chance.between(9, 40), today, chance) : [],
      loves: [...(sketch.loves ?? [])],
      since,
      isActive: true,
      hasJoined: true,
    }
    people.push(sketch.role === 'researcher' ? person : { ...person, ...demoLearning(person, today) })
  }
  return people
}

function skillsOf(notes: string, isManager: boolean, since: string, today: string, chance: Dice): Person['skills'] {
  if (notes === '') return []
  return notes.split(', ').map((note) => {
    const [short = '', level = '0'] = note.split(' ')
    const techniqueId = shortTechnique[short] ?? short
    const latest = Math.max(20, Math.min(900, Math.round((Date.parse(today) - Date.parse(since)) / 86_400_000) - 20))
    return {
      techniqueId,
      level: Number(level),
      by: isManager ? null : chance.pick(['thea', 'zosia', 'vigdis']),
      on: addDays(today, -chance.between(10, latest)),
      expiresOn: renewed.includes(techniqueId) ? addDays(today, chance.between(30, 330)) : null,
    }
  })
}

// Repeated people come on other days, so that a larger lab is not full on the same half-days only.
function halfDays(comes: string, round: number): { day: number; shiftId: string }[] {
  if (comes === '') return []
  return comes.split(' ').map((note) => {
    const day = (Number(note.charAt(0)) + (round % 3 === 2 ? 1 : 0)) % 7
    // The lab is closed on the third day from today; whoever would come then comes a day later.
    return { day: day === 3 ? 4 : day, shiftId: shiftOf[note.charAt(1)] ?? 'morning' }
  })
}

function awayFor(firstDay: number, today: string, chance: Dice): Person['exceptions'] {
  return Array.from({ length: chance.between(1, 8) }, (_, i) => ({
    date: addDays(today, firstDay + i),
    shiftId: null,
    kind: 'away' as const,
  }))
}

const romanOf = (n: number): string =>
  'X'.repeat(Math.floor(n / 10)) + (['', 'I', 'II', 'III', 'IV', 'V', 'VI', 'VII', 'VIII', 'IX'][n % 10] ?? '')
