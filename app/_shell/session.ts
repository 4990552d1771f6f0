// Who the server says is here, as it hands it to the page with the request. Read once for the first paint; the live
// connection is what counts afterwards.
import { Me } from '#lib/words'

/** What the first paint knows. */
export type ShellSession = Pick<Me, 'lab' | 'isDemo' | 'role' | 'person'>

/** Reads the request's session header; anything unexpected counts as nobody. */
export function readSession(header: string | null): ShellSession {
  const nobody: ShellSession = { lab: '', isDemo: false, role: null, person: null }
  if (header === null) return nobody
  try {
    const { lab, isDemo, role, person } = Me.parse(JSON.parse(header))
    return { lab, isDemo, role, person }
  } catch {
    return nobody
  }
}
