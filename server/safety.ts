// Answers `safety`: health figures, samples and incidents, person by person, to those whom they concern.
import { z } from 'zod'
import { mayReadSafety } from '#lib/rules'
import { safetyFor } from '#lib/views'
import { PersonId } from '#lib/words'
import type { Asker } from './asks.ts'
import type { Reads } from './reads.ts'

const Asked = z.object({ about: z.nullable(PersonId) })

/** `{about: id | null}`; refused are the wall, researchers, and whoever asks about somebody else without the mark. */
export const safetyAsker = (noteRead: Reads['note']): Asker =>
  // biome-ignore lint/correctness/useYield: there is one answer, and it is the last
  async function* (body, { who, look }) {
    const asked = Asked.safeParse(body)
    if (!asked.success) return { refused: 'bad-request' }
    const { about } = asked.data
    const isCrew = who.role === 'manager' || who.role === 'preparator' || who.role === 'volunteer'
    if (!isCrew) return { refused: 'not-allowed' }
    const { records } = look()
    if (records.person.get(who.personId)?.isActive !== true) return { refused: 'not-allowed' }
    if (about !== who.personId) {
      const mayReadAll = mayReadSafety(records, who.personId)
      if (about !== null && !mayReadAll) return { refused: 'not-allowed' }
      if (mayReadAll) noteRead(who.personId, 'safety', about)
    }
    return safetyFor(records, who.personId, about)
  }
