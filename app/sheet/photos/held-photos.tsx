'use client'
// Photographs of a piece that lie on this device still: how far each has come, what it waits for, or why it cannot go.
import { type PhotoShown, useBoard, usePhotos, useSave } from '../../_board/index.ts'
import { Button } from '../../_parts/controls/index.ts'
import { sayBytes, sayFindings, sayPhotoRefusal, sayViewHead } from '../../_text/index.ts'
import { FilePicture } from './file-picture.tsx'

type HeldPhotosProps = {
  readonly pieceId: string
  /** Those too that were taken for a form which was never finished. */
  readonly withDrafts?: boolean
}

/** Those of a piece that are on their way; nothing when there are none. */
export function HeldPhotos({ pieceId, withDrafts = false }: HeldPhotosProps) {
  const { held } = usePhotos()
  const mine = held.filter((photo) => photo.pieceId === pieceId && (withDrafts || photo.draftOf === null))
  if (mine.length === 0) return null
  return (
    <ul className="no-print" aria-label="On their way from this device">
      {mine.map((photo) => (
        <Held key={photo.id} photo={photo} />
      ))}
    </ul>
  )
}

function Held({ photo }: { readonly photo: PhotoShown }) {
  const { again, release, drop } = usePhotos()
  const { refused } = photo
  const isDraft = photo.draftOf !== null
  const records = useBoard((board) => board)
  const isOffline = useSave().state === 'offline'
  const name = [sayViewHead(photo.said.view), photo.said.caption].filter(Boolean).join(': ')
  return (
    <li className="flex flex-wrap items-center gap-3 border-b border-line py-2">
      <FilePicture file={photo.file} label={name} heightPx={56} />
      <span className="min-w-48 flex-1">
        <span className="block font-firm">{name}</span>
        <span className="block text-small text-umber" role="status">
          {refused === null
            ? sayWay(photo, isOffline)
            : `Not on its Sheet. ${typeof refused === 'string' ? sayPhotoRefusal[refused] : sayFindings(refused, records)}`}
        </span>
      </span>
      {refused === null && !isDraft ? null : (
        <span className="flex flex-wrap gap-2">
          <Button onClick={() => (isDraft ? release(photo.id, {}) : again(photo.id))}>
            {isDraft ? 'Add it now' : 'Try again'}
          </Button>
          <Button kind="quiet" onClick={() => drop(photo.id)}>
            Let it go
          </Button>
        </span>
      )}
    </li>
  )
}

function sayWay({ sentBytes, waitsFor, file, draftOf }: PhotoShown, isOffline: boolean): string {
  if (draftOf !== null) return 'Held on this device for a form that is not finished.'
  if (isOffline) return 'Held on this device. It goes when the lab is in reach.'
  if (waitsFor !== null) return `Waits. ${sayPhotoRefusal[waitsFor]}`
  if (sentBytes === null) return 'Held on this device, next to go.'
  return `${Math.floor((100 * sentBytes) / file.size)} % of ${sayBytes(file.size)} has come.`
}
