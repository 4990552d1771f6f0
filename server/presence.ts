// Who looks at what. A client says where it is; the server stamps who it is and tells the crew, in one merged frame per
// moment. Never stored. Rules: one state a connection, under one client id that nobody else holds; a client that
// repeats what others said (the provider does) is heard only for itself; renewals travel with the regular frame.
import { z } from 'zod'
import { type AwarenessState, awarenessFrame, type Frame, readAwareness } from './sync/frames.ts'
import type { Clock } from './world.ts'

/** Where somebody is, as the client says. */
const Looking = z.object({
  at: z.string().regex(/^[a-z][\w./-]{0,120}$/),
  field: z
    .string()
    .regex(/^[\w./-]{1,120}$/)
    .optional(),
})

/** Who is in presence, and where it is sent to. */
export interface Present {
  readonly personId: string
  readonly name: () => string
  readonly send: (frame: Frame) => void
  /** True for those who are shown the others. */
  readonly isShown: boolean
}

const STATE_BYTES_MAX = 500
const STATES_MAX = 5_000
// Moves within this time travel together; quick enough to follow a cursor from field to field.
const GATHER_MS = 50
// Clients forget a state that was not renewed for 30 s.
const RENEW_MS = 10_000

export class Presence {
  readonly #clock: Clock
  readonly #states = new Map<Present, AwarenessState>()
  readonly #holders = new Map<number, Present>()
  readonly #watching = new Set<Present>()
  readonly #moved = new Map<number, AwarenessState>()
  #cancelTell: (() => void) | null = null
  #cancelRenew: (() => void) | null = null

  constructor(clock: Clock) {
    this.#clock = clock
  }

  /** Somebody came: they are shown who is here, and will be shown who comes. */
  join(present: Present): void {
    if (present.isShown) {
      this.#watching.add(present)
      if (this.#states.size > 0) present.send(awarenessFrame(this.#states.values()))
    }
    this.#renewLater()
  }

  /** Hears an awareness update of a client; throws when it is not one. */
  hear(present: Present, update: Uint8Array): void {
    const states = readAwareness(update, STATES_MAX)
    const known = this.#states.get(present)
    // The first word of a client is about itself alone; that binds its id to the connection.
    const own = known
      ? states.find(({ client }) => client === known.client)
      : states.length === 1
        ? states[0]
        : undefined
    if (!own || (known && own.clock <= known.clock)) return
    const holder = this.#holders.get(own.client)
    // The same person again: a connection that has not noticed its end. Anybody else is not let in under this id.
    if (holder && holder !== present && holder.personId !== present.personId) return
    if (holder && holder !== present) this.#forget(holder)
    const json = stamp(own.json, present)
    if (json === null) {
      this.#leave(present, own.clock)
      return
    }
    const state = { client: own.client, clock: own.clock, json }
    this.#states.set(present, state)
    this.#holders.set(own.client, present)
    // A renewal says nothing new; the regular frame carries it.
    if (known?.json !== json) this.#tellSoon(state)
  }

  /** Somebody went. */
  leave(present: Present): void {
    this.#watching.delete(present)
    const state = this.#states.get(present)
    if (state) this.#leave(present, state.clock + 1)
  }

  close(): void {
    this.#cancelTell?.()
    this.#cancelRenew?.()
  }

  #leave(present: Present, clock: number): void {
    const state = this.#states.get(present)
    if (!state) return
    this.#forget(present)
    this.#tellSoon({ client: state.client, clock, json: 'null' })
  }

  #forget(present: Present): void {
    const state = this.#states.get(present)
    this.#states.delete(present)
    if (state && this.#holders.get(state.client) === present) this.#holders.delete(state.client)
  }

  #tellSoon(state: AwarenessState): void {
    this.#moved.set(state.client, state)
    this.#cancelTell ??= this.#clock.after(GATHER_MS, () => {
      this.#cancelTell = null
      const frame = awarenessFrame(this.#moved.values())
      this.#moved.clear()
      for (const present of this.#watching) present.send(frame)
    })
  }

  #renewLater(): void {
    this.#cancelRenew ??= this.#clock.after(RENEW_MS, () => {
      this.#cancelRenew = null
      if (this.#watching.size === 0) return
      const frame = awarenessFrame(this.#states.values())
      for (const present of this.#watching) present.send(frame)
      this.#renewLater()
    })
  }
}

/** The state as others see it: what the client may say, under the name that it has. Null for nothing sayable. */
function stamp(json: string, { personId, name }: Present): string | null {
  if (json.length > STATE_BYTES_MAX) return null
  const parsed = Looking.safeParse(parseJson(json))
  if (!parsed.success) return null
  const { at, field } = parsed.data
  return JSON.stringify({ at, ...(field === undefined ? {} : { field }), personId, name: name() })
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return null
  }
}
