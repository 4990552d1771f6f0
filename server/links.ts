// Links printed at the start: the first manager's, as long as nobody has joined, and whatever --invite asks for. Who can
// start the server on the lab's folder has the lab already, so this gives nothing away and lets nobody be shut out.
import type { House } from './house.ts'
import { WrongFolder } from './house.ts'
import { nameAmongOthers } from './installation.ts'
import type { Settings } from './settings.ts'

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
  if (invite !== null) lines.push(await linkFor({ lab, door }, invite, base))
  return lines
}

/** A line with a one-time link for the person of that name. */
export async function linkFor({ lab, door }: Pick<House, 'lab' | 'door'>, name: string, base: string): Promise<string> {
  const people = [...lab.records().person.values()].filter((person) => person.isActive)
  const person = people.find((one) => one.name.toLowerCase() === name.trim().toLowerCase())
  if (!person) throw new WrongFolder(`Nobody here is called ${name}.`)
  return `One-time link for ${person.name}: ${base}/join#${await door.invite(person.id, null)}`
}

/**
 * What a link of a data folder's lab begins with. Among others it begins with the lab's name, and where the labs go by a
 * name of their own, it is taken to be reached by https, as behind the proxy that has the certificate.
 * @param here where this process is reached, or would be
 */
export function linkBase({ data, hosts, prefix }: Pick<Settings, 'data' | 'hosts' | 'prefix'>, here: string): string {
  const name = nameAmongOthers(data)
  if (name === null) return here
  const [domain] = hosts
  return domain === undefined ? here.replace(/\/\/[^/:]+/, `//${name}.localhost`) : `https://${name}.${domain}${prefix}`
}
