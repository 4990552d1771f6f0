// Photographs and strokes on them for tests, with only what matters said.
import type * as z from 'zod/mini'
import { Photo, Stroke } from '#lib/words'
import { NOW } from './makers.ts'

/** A photograph that Ana took of the skull. */
export function aPhoto(over: Partial<z.input<typeof Photo>> = {}) {
  return Photo.parse({
    ...{ id: 'photo1', pieceId: 'skull', entryId: null, hash: '1a'.repeat(32), form: 'jpeg' },
    ...{ widthPx: 4000, heightPx: 3000, bytes: 2_000_000, view: 'dorsal', scaleBarMm: 50, caption: '' },
    ...{ takenAt: NOW, takenBy: 'ana', by: 'ana', at: NOW, owner: '', licence: '', corrects: null },
    ...{ withdrawn: false, ...over },
  })
}

/** A photograph as the act says it: its id under another name, without what the gate stamps. */
export function photoSaid(over: Partial<z.input<typeof Photo>> = {}) {
  const { id: photoId, by: _by, at: _at, corrects: _corrects, withdrawn: _withdrawn, ...said } = aPhoto(over)
  return { photoId, ...said }
}

/** A correction as the act says it. */
export function photoCorrected(over: Partial<z.input<typeof Photo>> = {}) {
  const { photoId, pieceId, view, scaleBarMm, caption, takenAt, takenBy, owner, licence } = photoSaid({
    id: 'photo2',
    ...over,
  })
  const withdrawn = over.withdrawn ?? false
  const said = { view, scaleBarMm, caption, takenAt, takenBy, owner, licence, withdrawn }
  return { photoId, pieceId, corrects: over.corrects ?? 'photo1', ...said }
}

/** A stroke of Ana's on the paper of the skull's upper side. */
export function aStroke(over: Partial<z.input<typeof Stroke>> = {}) {
  return Stroke.parse({
    ...{ id: 'stroke1', pieceId: 'skull', photoHash: null, view: 'dorsal', what: 'follow', by: 'ana', at: NOW },
    points: [
      [1000, 2000],
      [4000, 5000],
    ],
    ...{ withdraws: null, ...over },
  })
}
