/**
 * What upsets a posted day: people who do not come or come late, a place that breaks, a process that ends at its hour.
 * Each makes a redraw problem out of a day and the line-up that was posted for it.
 */
import { seededRandom } from '#lib/base'
import { type Problem, problemSchema, type Solution } from '#lib/lineup'

export type Upset =
  | { readonly kind: 'absent'; readonly people: number }
  | { readonly kind: 'late'; readonly people: number }
  | { readonly kind: 'broken' }
  | { readonly kind: 'clock' }

export const UPSETS: readonly Upset[] = [
  { kind: 'absent', people: 1 },
  { kind: 'absent', people: 2 },
  { kind: 'absent', people: 3 },
  { kind: 'broken' },
  { kind: 'late', people: 2 },
  { kind: 'clock' },
]

/** The day after the upset, with the posted line-up to stay close to. */
export function upsetDay(day: Problem, posted: Solution, upset: Upset, seed: number): Problem {
  const random = seededRandom(seed)
  const drawn = [...new Set(posted.lineUp.map((turn) => turn.person))].sort()
  const some = (count: number): ReadonlySet<string> => {
    const chosen = new Set<string>()
    while (chosen.size < Math.min(count, drawn.length)) chosen.add(drawn[random.below(drawn.length)] ?? '')
    return chosen
  }
  const problem = { ...day, posted: [...posted.lineUp] }
  if (upset.kind === 'absent') {
    const out = some(upset.people)
    return {
      ...problem,
      people: day.people.map((person) => (out.has(person.id) ? { ...person, presence: [] } : person)),
    }
  }
  if (upset.kind === 'late') {
    const late = some(upset.people)
    // Two hours late for their first shift.
    const people = day.people.map((person) => {
      const [first, ...rest] = person.presence
      if (first === undefined || !late.has(person.id)) return person
      const from = first.from + 120
      return { ...person, presence: from < first.to ? [{ ...first, from }, ...rest] : rest }
    })
    return { ...problem, people }
  }
  if (upset.kind === 'broken') {
    const used = [...new Set(posted.lineUp.map((turn) => turn.place))].sort()
    const broken = used[random.below(used.length)]
    return {
      ...problem,
      places: day.places.map((place) => (place.id === broken ? { ...place, isCheckOverdue: true } : place)),
    }
  }
  // Something that nobody is at ends in the middle of the first shift.
  const shift = day.shifts[0]
  const atWork = new Set(posted.lineUp.map((turn) => turn.piece))
  const idle = day.pieces.filter((piece) => !atWork.has(piece.id) && piece.steps.some((step) => step.people.min === 1))
  const piece = idle[random.below(Math.max(1, idle.length))]
  if (shift === undefined || piece === undefined) return problem
  return problemSchema.parse({
    ...problem,
    clocks: [{ id: 'ends', shift: shift.id, minute: shift.start + 90, piece: piece.id }],
  })
}
