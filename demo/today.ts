// This morning, before the line-up: who was ticked in, one who is late, one who is away, one who took a jacket
// already, and one hold of the manager's.
import { minuteOf } from '#lib/base'
import type { Change } from '#lib/words'
import { type Dice, type Draft, instant, record } from './dice.ts'
import { weekdayIn } from './people.ts'
import type { Written } from './written.ts'

interface Around {
  readonly lab: Draft<'lab'>
  readonly people: readonly Draft<'person'>[]
  readonly today: string
}

/** The state of the day on which the demo is opened. */
export function demoToday(written: Written, { lab, people, today }: Around, chance: Dice): Change[] {
  const changes: Change[] = []
  const weekday = weekdayIn(today, 0)
  for (const person of people) {
    if (!person.pattern.some((half) => half.weekday === weekday && half.shiftId === 'morning')) continue
    const state = person.id === 'farid' ? 'late' : person.id === 'esme' ? 'away' : 'in'
    changes.push(
      record('attendance', {
        id: `${today}.morning.${person.id}`,
        personId: person.id,
        date: today,
        shiftId: 'morning',
        state,
        dueAt: state === 'late' ? '10:15' : null,
        at: instant(lab.zone, today, minuteOf('09:00') + chance.between(0, 28)),
      }),
    )
  }
  const skull = written.specimens.find((specimen) => specimen.name === 'Skull in block')
  const step = written.steps.find((other) => other.pieceId === skull?.id && other.techniqueId === 'needle')
  if (skull && step) {
    const where = { date: today, shiftId: 'morning', personId: 'amara', pieceId: skull.id, stepId: step.id }
    changes.push(record('hold', { id: `${today}.morning.amara`, ...where, placeId: 'm1' }))
  }
  changes.push(...claimed(written, lab, today))
  return changes
}

/** Dov took a jacket with loose rock for the morning, at the housing bench. */
function claimed({ jackets, steps }: Written, lab: Draft<'lab'>, today: string): Change[] {
  for (const jacket of jackets) {
    if (jacket.state !== 'opened' || jacket.mass.highKg > 380 || jacket.placeId !== null) continue
    const step = steps.find((other) => other.pieceId === jacket.id && other.techniqueId === 'stiff-brush')
    if (!step || step.state === 'done') continue
    const where = { date: today, shiftId: 'morning', pieceId: jacket.id, stepId: step.id, placeId: 'h1' }
    const at = instant(lab.zone, today, minuteOf('08:41'))
    return [
      record('assignment', { id: `${today}.morning.dov`, ...where, personId: 'dov', how: 'claimed', by: 'dov', at }),
    ]
  }
  return []
}
