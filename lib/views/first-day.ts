// What a line-up cannot do without and a new lab may not have entered yet: people who come, hands that can, work that
// waits. Without one of them a draw-up seats nobody, whatever the day.
import type { Records } from '#lib/words'

/** In the order in which it is entered. */
export type Unentered = 'days' | 'skills' | 'work'

/** What is not entered of anybody or of any piece. */
export function unenteredOf(records: Records): readonly Unentered[] {
  const crew = [...records.person.values()].filter(({ isActive, role }) => isActive && role !== 'researcher')
  const comes = crew.some(({ pattern, spells, exceptions }) =>
    [pattern, spells ?? [], exceptions].some((list) => list.length > 0),
  )
  const can = crew.some(({ skills }) => skills.some(({ level }) => level > 0))
  const waits = [...records.step.values()].some(({ state }) => state === 'waiting' || state === 'begun')
  return [
    ...(comes ? [] : (['days'] as const)),
    ...(can ? [] : (['skills'] as const)),
    ...(waits ? [] : (['work'] as const)),
  ]
}
