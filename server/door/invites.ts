// Links that let somebody in: for one person once, within a week; or for the screens in the room, until withdrawn. The
// secret stands behind the # of the link, so that no server log, referrer or link preview ever sees or uses it.
import { z } from 'zod'
import { PersonId } from '#lib/words'
import type { Door as Tables } from '../store/contract.ts'
import type { Chance, Clock } from '../world.ts'
import { isToken, keyOf, newToken } from './tokens.ts'

/** How long an invitation waits to be used. */
const INVITE_MS = 7 * 86_400_000
const SPACE = 'invite'

const Invite = z.strictObject({
  /** Hash of the secret. */
  key: z.string(),
  /** Whom it lets in; null for screens in the room. */
  personId: z.nullable(PersonId),
  /** Who asked for it; null when the console did. */
  by: z.nullable(PersonId),
  madeAt: z.number(),
  /** Null for the screens' link: it holds until another one is made. */
  endsAt: z.number().nullable(),
  usedAt: z.number().nullable(),
})
type Invite = Readonly<z.infer<typeof Invite>>

export type Invites = {
  /** A link's secret for a person (or the screens: null); earlier unused links for them end. */
  readonly make: (personId: PersonId | null, by: PersonId | null) => Promise<string>
  /** The invitation behind a secret, as long as it can be used; `used` when it was. */
  readonly find: (token: string) => Invite | 'used' | null
  /** Uses it up; false when somebody was quicker. The screens' link stays. */
  readonly use: (invite: Invite) => Promise<boolean>
  /** Takes `use` back after what it was for was refused. */
  readonly giveBack: (invite: Invite) => Promise<void>
  /** True while a link for this person waits. */
  readonly waitsFor: (personId: PersonId) => boolean
}

/** Loads the invitations. Used ones stay known until their week is over, so that a second click is told what happened. */
export async function openInvites(
  tables: Tables,
  { clock, chance }: { clock: Clock; chance: Chance },
): Promise<Invites> {
  const held = new Map<string, Invite>()
  for (const { value } of await tables.list(SPACE, clock.now())) {
    const invite = Invite.parse(value)
    held.set(invite.key, invite)
  }

  const isOpen = (invite: Invite) => invite.usedAt === null && (invite.endsAt === null || invite.endsAt > clock.now())

  async function keep(invite: Invite): Promise<void> {
    held.set(invite.key, invite)
    await tables.put(SPACE, { key: invite.key, value: invite, expiresAt: invite.endsAt })
  }

  async function drop(invite: Invite): Promise<void> {
    held.delete(invite.key)
    await tables.remove(SPACE, invite.key)
  }

  return {
    async make(personId, by) {
      for (const old of [...held.values()]) if (old.personId === personId && old.usedAt === null) await drop(old)
      const token = newToken(chance)
      const now = clock.now()
      await keep({
        key: keyOf(token),
        personId,
        by,
        madeAt: now,
        endsAt: personId === null ? null : now + INVITE_MS,
        usedAt: null,
      })
      return token
    },
    find(token) {
      const invite = isToken(token) ? held.get(keyOf(token)) : undefined
      if (!invite) return null
      return isOpen(invite) ? invite : invite.usedAt === null ? null : 'used'
    },
    async use(invite) {
      const now = held.get(invite.key)
      if (!now || !isOpen(now)) return false
      // The mark is set before the first wait: of two at the same instant the second finds it.
      if (now.personId === null) return true
      try {
        await keep({ ...now, usedAt: clock.now() })
      } catch (trouble) {
        held.set(now.key, now)
        throw trouble
      }
      return true
    },
    async giveBack(invite) {
      await keep({ ...invite, usedAt: null })
    },
    waitsFor: (personId) => [...held.values()].some((invite) => invite.personId === personId && isOpen(invite)),
  }
}
