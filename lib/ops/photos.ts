// Photographs on a piece's Sheet. The file comes first, by pieces over HTTP; then the act names it. Only added to: a
// correction and a withdrawal are new records of the same file.
import { correctionOf, photosShown } from '#lib/rules'
import { type Finding, finding, put, type Records } from '#lib/words'
import { knownPiece } from './care.ts'
import { by, defineOp, type When, type Who } from './op.ts'
import { isStaff, must, sheetForGate, sheetOf, unknown, unless } from './parts.ts'

/**
 * Staff photograph every piece; volunteers what was theirs on a day that the board still knows: a picture taken offline
 * may come in the next morning, when its piece is somebody else's.
 */
function judgePhotographer(records: Records, pieceId: string, who: Who, when: When): readonly Finding[] {
  const wasTheirs = (one: { readonly personId: string; readonly pieceId: string; readonly date: string }) =>
    one.personId === who.personId && one.pieceId === pieceId && one.date <= when.date
  const may = isStaff(who) || [...records.assignment.values(), ...records.work.values()].some(wasTheirs)
  return [...knownPiece(records, pieceId), ...unless(may, 'O', 'not-yours', { piece: pieceId })]
}

const judgeTaker = (records: Records, takenBy: string | null): readonly Finding[] =>
  takenBy === null || records.person.has(takenBy) ? [] : [unknown('person', takenBy)]

export const addPhoto = defineOp<'addPhoto'>({
  kind: 'addPhoto',
  roles: by.crew,
  needs: (_records, { pieceId }) => sheetForGate(pieceId),
  judge: (records, { photoId, pieceId, entryId, hash, takenBy }, who, when) => {
    const entry = entryId === null ? undefined : (records.entry.get(entryId) ?? records.log.get(entryId))
    return [
      ...judgePhotographer(records, pieceId, who, when),
      ...judgeTaker(records, takenBy),
      ...unless(!entry || entry.pieceId === pieceId, 'O', 'unknown-entry', { entry: entryId ?? '' }),
      // Kept once: the same file a second time is a double press.
      ...unless(
        photosShown(records.photo.values(), pieceId).every(({ photo }) => photo.hash !== hash),
        'O',
        'photo-there',
        { piece: pieceId },
      ),
      ...unless(!records.photo.has(photoId), 'R6', 'only-added', { record: photoId }),
    ]
  },
  apply: (_records, { id: _id, kind: _kind, photoId, ...said }, who, when) => [
    put('photo', { ...said, id: photoId, by: who.personId, at: when.at, corrects: null, withdrawn: false }),
  ],
})

export const correctPhoto = defineOp<'correctPhoto'>({
  kind: 'correctPhoto',
  roles: by.crew,
  needs: (_records, { pieceId }) => sheetOf(pieceId),
  judge: (records, { photoId, corrects, pieceId, takenBy }, who, when) => {
    const old = records.photo.get(corrects)
    if (!old || old.pieceId !== pieceId) return [unknown('photo', corrects)]
    const newer = correctionOf(records, 'photo', corrects)
    return [
      ...judgePhotographer(records, pieceId, who, when),
      ...unless(isStaff(who) || old.by === who.personId, 'O', 'not-yours', { person: old.by }),
      ...judgeTaker(records, takenBy),
      ...(newer === null ? [] : [finding('R6', 'corrected', { record: corrects, newer })]),
      ...unless(!records.photo.has(photoId), 'R6', 'only-added', { record: photoId }),
    ]
  },
  apply: (records, { id: _id, kind: _kind, photoId, corrects, ...said }, who, when) => {
    const old = must(records.photo.get(corrects), 'a photograph')
    return [put('photo', { ...old, ...said, id: photoId, by: who.personId, at: when.at, corrects })]
  },
})
