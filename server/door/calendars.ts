// Addresses under which somebody's own calendar asks for their shifts and dates, without being signed in: whoever has the
// address reads it, so it cannot be guessed, is kept as a hash, and ends when its person makes another or wants none.
import { z } from 'zod'
import { PersonId } from '#lib/words'
import type { Door as Tables } from '../store/contract.ts'
import type { Chance, Clock } from '../world.ts'
import { isToken, keyOf, newToken } from './tokens.ts'

const SPACE = 'calendar'

const Address = z.strictObject({ key: z.string(), personId: PersonId, madeAt: z.number() })
type Address = Readonly<z.infer<typeof Address>>

export type Calendars = {
  /** A new address's secret; the former one ends. */
  readonly make: (personId: PersonId) => Promise<string>
  readonly end: (personId: PersonId) => Promise<void>
  /** When the present address was made; null where there is none. */
  readonly madeAt: (personId: PersonId) => number | null
  readonly personOf: (token: string) => PersonId | null
}

/** Loads the addresses. */
export async function openCalendars(
  tables: Tables,
  { clock, chance }: { clock: Clock; chance: Chance },
): Promise<Calendars> {
  const held = new Map<string, Address>()
  for (const { value } of await tables.list(SPACE, clock.now())) {
    const address = Address.parse(value)
    held.set(address.key, address)
  }
  const ofPerson = (personId: PersonId) => [...held.values()].filter((one) => one.personId === personId)

  async function end(personId: PersonId): Promise<void> {
    for (const { key } of ofPerson(personId)) {
      held.delete(key)
      await tables.remove(SPACE, key)
    }
  }

  return {
    async make(personId) {
      await end(personId)
      const token = newToken(chance)
      const address = { key: keyOf(token), personId, madeAt: clock.now() }
      await tables.put(SPACE, { key: address.key, value: address, expiresAt: null })
      held.set(address.key, address)
      return token
    },
    end,
    madeAt: (personId) => ofPerson(personId)[0]?.madeAt ?? null,
    personOf: (token) => (isToken(token) ? (held.get(keyOf(token))?.personId ?? null) : null),
  }
}
