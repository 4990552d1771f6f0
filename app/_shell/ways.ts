// The ways through the house: which screens a role is led to, at the top of a desk and in the foot of a phone.
import type { Role } from '#lib/words'
import type { MarkName } from '../_parts/marks/index.ts'

/** One way. */
export type Way = { readonly href: string; readonly word: string; readonly mark: MarkName }

const floor: Way = { href: '/', word: 'Floor', mark: 'bay' }
const rack: Way = { href: '/rack', word: 'Rack', mark: 'rack' }
const due: Way = { href: '/due', word: 'Due', mark: 'plumb' }
const crew: Way = { href: '/crew', word: 'Crew', mark: 'person' }
const mine: Way = { href: '/mine', word: 'My shift', mark: 'clock' }

/** The ways of a role; the manager's day is the whole room, everybody else's begins at their own seat. */
export function waysOf(role: Role): readonly Way[] {
  if (role === 'manager') return [floor, rack, due, crew]
  if (role === 'researcher') return [floor, rack, due]
  return [floor, mine, rack, due, crew]
}

/** At most four in the foot, in the order of a thumb. */
export function footWaysOf(role: Role): readonly Way[] {
  if (role === 'manager') return [floor, rack, crew, due]
  if (role === 'researcher') return [floor, rack, due]
  return [floor, rack, mine, due]
}

/** Whether a path belongs to a way. */
export function isOn(way: Way, path: string): boolean {
  return way.href === '/' ? path === '/' : path === way.href || path.startsWith(`${way.href}/`)
}
