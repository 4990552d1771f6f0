// A short PIN to switch person on a shared bench tablet. Four digits are quickly guessed, so guesses are slowed by
// person and device, and by person over all strange devices; a device on which the person was right before is spared
// that second brake, so that nobody can lock somebody else, or the lab, out. Hashes are argon2id, one to a person.
import { hash, verify } from '@node-rs/argon2'
import { z } from 'zod'
import { PersonId } from '#lib/words'
import type { Door as Tables } from '../store/contract.ts'
import type { Clock } from '../world.ts'
import { type Buckets, buckets, type Waits, waits } from './throttle.ts'

const SPACE = 'pin'
/** Devices on which a person was right. */
const FAMILIAR = 'pin-familiar'
/** A device where somebody was not right for so long is strange to them again. */
const FAMILIAR_MS = 90 * 86_400_000
/** OWASP's advice for argon2id: 19 MiB, two rounds, one lane. The package's default variant is argon2id. */
const COST = { memoryCost: 19_456, timeCost: 2, parallelism: 1 }

const Familiar = z.strictObject({ personId: PersonId, device: z.string() })
const Kept = z.strictObject({ personId: PersonId, hash: z.string() })

type PinAnswer = { ok: true } | { ok: false; why: 'wrong-pin' | 'no-pin' } | { ok: false; why: 'wait'; waitMs: number }

export type Pins = {
  readonly has: (personId: PersonId) => boolean
  /** Sets a person's PIN, or takes it away (null). */
  readonly set: (personId: PersonId, pin: string | null) => Promise<void>
  /** Tries a PIN for a person at a device. */
  readonly attempt: (personId: PersonId, pin: string, device: string) => Promise<PinAnswer>
}

/** What slows guessing down. It may outlive the door: whoever could have a lab closed and opened must not gain tries by it. */
export interface PinBrakes {
  readonly byDevice: Waits
  readonly byPerson: Buckets
}

/** Makes the brakes, of one lab or of all in a process. */
export const pinBrakes = (clock: Clock): PinBrakes => ({
  byDevice: waits(clock, { free: 5, firstMs: 15_000, maxMs: 15 * 60_000 }),
  byPerson: buckets(clock, { burst: 30, perMinute: 0.1 }),
})

/** One lab's part of brakes that labs share: ids of people mean nothing beyond their lab. */
export const brakesOf = ({ byDevice, byPerson }: PinBrakes, lab: string): PinBrakes => ({
  byDevice: {
    attempt: (key) => byDevice.attempt(`${lab} ${key}`),
    succeeded: (key) => byDevice.succeeded(`${lab} ${key}`),
  },
  byPerson: { take: (key) => byPerson.take(`${lab} ${key}`) },
})

/** Loads the PINs' hashes. */
export async function openPins(tables: Tables, clock: Clock, brakes: PinBrakes = pinBrakes(clock)): Promise<Pins> {
  const held = new Map<string, string>()
  for (const { value } of await tables.list(SPACE, clock.now())) {
    const kept = Kept.parse(value)
    held.set(kept.personId, kept.hash)
  }
  const { byDevice, byPerson } = brakes
  // Kept, or whoever guesses after a restart could take all tries before the person comes to their tablet.
  const familiar = new Set<string>()
  for (const { value } of await tables.list(FAMILIAR, clock.now())) {
    const { personId, device } = Familiar.parse(value)
    familiar.add(`${personId} ${device}`)
  }

  return {
    has: (personId) => held.has(personId),
    async set(personId, pin) {
      if (pin === null) {
        held.delete(personId)
        await tables.remove(SPACE, personId)
        return
      }
      const made = await hash(pin, COST)
      await tables.put(SPACE, { key: personId, value: { personId, hash: made }, expiresAt: null })
      held.set(personId, made)
    },
    async attempt(personId, pin, device) {
      const known = held.get(personId)
      if (!known) return { ok: false, why: 'no-pin' }
      const pair = `${personId} ${device}`
      const waitMs = byDevice.attempt(pair) || (familiar.has(pair) ? 0 : byPerson.take(personId))
      if (waitMs > 0) return { ok: false, why: 'wait', waitMs }
      if (!(await verify(known, pin))) return { ok: false, why: 'wrong-pin' }
      byDevice.succeeded(pair)
      familiar.add(pair)
      const expiresAt = clock.now() + FAMILIAR_MS
      // Not kept, it only makes the device strange again after a restart; the right PIN lets in all the same.
      await tables.put(FAMILIAR, { key: pair, value: { personId, device }, expiresAt }).catch(() => undefined)
      return { ok: true }
    },
  }
}
