// "Who am I" over HTTP: tells a server that is away from one that is there and knows nobody, which a refused
// WebSocket cannot.
import { Me } from '#lib/words'
import { addressOf } from '../../_parts/address.ts'
import type { AskWho } from '../core/ports.ts'

const WAIT_MS = 4000

/** Asks the server; null when it does not answer in time or not in our words. */
export const whoAmI: AskWho = async () => {
  try {
    const response = await fetch(addressOf('/api/me'), { cache: 'no-store', signal: AbortSignal.timeout(WAIT_MS) })
    if (response.status === 401) return { signedOut: true }
    const me = Me.safeParse(await response.json())
    if (!me.success) return null
    const { person, role, lab } = me.data
    return role === null ? { signedOut: true } : { identity: { lab, personId: person?.id ?? null, role } }
  } catch {
    return null
  }
}
