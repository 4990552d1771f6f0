// Links printed at the start: the first manager's, as long as nobody has joined, and whatever --invite asks for. Who can
// start the server on the lab's folder has the lab already, so this gives nothing away and lets nobody be shut out.
import type { House } from './house.ts'
import { WrongFolder } from './house.ts'

/** Lines to print, each with a one-time link. */
export async function firstLinks(
  { lab, door }: House,
  invite: string | null,
  base: string,
): Promise<readonly string[]> {
  const people = [...lab.records().person.values()].filter((person) => person.isActive)
  const lines: string[] = []
  const isNew = lab.records().lab.get('lab')?.isDemo === false && !people.some((person) => person.hasJoined)
  const first = isNew ? people.find((person) => person.role === 'manager') : undefined
  if (first) lines.push(`One-time link for the first manager: ${base}/join#${await door.invite(first.id, null)}`)
  if (invite !== null) {
    const person = people.find(({ name }) => name.toLowerCase() === invite.trim().toLowerCase())
    if (!person) throw new WrongFolder(`Nobody here is called ${invite}.`)
    lines.push(`One-time link for ${person.name}: ${base}/join#${await door.invite(person.id, null)}`)
  }
  return lines
}
