// Identifiers made by the server, where a guess would matter.
import { makeId } from '#lib/base'
import type { Chance, Clock } from './world.ts'

/** A sortable id that nobody can guess. */
export const freshId = ({ clock, chance }: { clock: Clock; chance: Chance }): string =>
  makeId(clock.now(), () => (chance.bytes(1)[0] ?? 0) & 31)
