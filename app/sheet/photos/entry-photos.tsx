'use client'
// The photographs that were taken with a log or an entry, small beside its words; each leads to the strip, where it is
// looked at.
import { photosShown } from '#lib/rules'
import { useBoard } from '../../_board/index.ts'
import { titleOf } from './look.tsx'
import { PhotoPicture } from './photo-picture.tsx'

type EntryPhotosProps = { readonly pieceId: string; readonly entryId: string }

/** Those of one entry; nothing when it has none. */
export function EntryPhotos({ pieceId, entryId }: EntryPhotosProps) {
  const photos = useBoard((records) => [...records.photo.values()].filter((one) => one.pieceId === pieceId))
  const mine = photosShown(photos, pieceId).filter(({ photo }) => photo.entryId === entryId)
  if (mine.length === 0) return null
  return (
    <span className="mt-2 flex flex-wrap gap-2">
      {mine.map(({ photo, first }) => (
        <a key={first.id} href="#photographs" className="block" aria-label={`Photograph, ${titleOf(photo)}`}>
          <PhotoPicture
            photo={photo}
            side={320}
            label=""
            className="h-16 w-20 border border-ink bg-bench object-cover"
          />
        </a>
      ))}
    </span>
  )
}
