// "Who am I" over HTTP: tells a server that is away from one that is there and knows nobody, which a refused
// WebSocket cannot.
import { z } from 'zod'
import { PersonId, Role } from '#lib/words'
import type { AskWho } from '../core/ports.ts'

const WAIT_MS = 4000

const Answer = z.union([
  z.object({ signedOut: z.literal(true) }),
  z.object({ person: z.object({ id: PersonId }).nullable(), role: Role }),
])

/** Asks the server; null when it does not answer in time or not in our words. */
export const whoAmI: AskWho = async () => {
  try {
    const response = await fetch('/api/me', { cache: 'no-store', signal: AbortSignal.timeout(WAIT_MS) })
    if (response.status === 401) return { signedOut: true }
    const parsed = Answer.safeParse(await response.json())
    if (!parsed.success) return null
    if ('signedOut' in parsed.data) return { signedOut: true }
    return { identity: { personId: parsed.data.person?.id ?? null, role: parsed.data.role } }
  } catch {
    return null
  }
}
