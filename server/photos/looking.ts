// Who may look at a photograph: whoever may read a record of the piece that names its file. A file that no record names
// is shown to nobody, and one that was withdrawn to the staff alone.
import { migrate } from '#lib/doc'
import { photosOf } from '#lib/rules'
import { faceFor, PieceId, type RecordOf } from '#lib/words'
import { type Identity, isStaff } from '../door/index.ts'
import type { House } from '../house.ts'

/** True when this identity may look at the file as a photograph of the piece. */
export type MayLook = (who: Identity, pieceId: string, hash: string) => Promise<boolean>

/** The question on an open lab. */
export function lookingIn({ store, labId, lab }: Pick<House, 'store' | 'labId' | 'lab'>): MayLook {
  async function photosOn(pieceId: string): Promise<readonly RecordOf<'photo'>[]> {
    const held = [...lab.records().photo.values()].filter((one) => one.pieceId === pieceId)
    // A Sheet is held whole or not at all.
    if (held.length > 0) return held
    const { records } = await store.snapshot(labId, `sheet/${pieceId}`)
    return records.flatMap(({ kind, record, words }) =>
      // Passed its schema when it was written; a migration answers for what it makes of it.
      kind === 'photo' ? [migrate(kind, record, words) as RecordOf<'photo'>] : [],
    )
  }
  return async ({ role }, pieceId, hash) => {
    if (!PieceId.safeParse(pieceId).success || faceFor(role, `sheet/${pieceId}`) === null) return false
    return photosOf(await photosOn(pieceId)).some(
      ({ photo }) => photo.hash === hash && (isStaff(role) || !photo.withdrawn),
    )
  }
}
