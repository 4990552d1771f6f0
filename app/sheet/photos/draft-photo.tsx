'use client'
// One photograph within a form: it lies on this device from the moment it was taken, and goes on its way with the form.
import { useState } from 'react'
import type { PhotoRefusal, PhotoView, PieceId } from '#lib/words'
import { type PhotoPatch, usePhotos, useWho } from '../../_board/index.ts'
import { Button } from '../../_parts/controls/index.ts'
import { sayPhotoRefusal, sayViewHead } from '../../_text/index.ts'
import { takenAtOf } from './add-form.tsx'
import { ChooseFile } from './choose-file.tsx'
import { FilePicture } from './file-picture.tsx'

/** The photographs that wait for a form, and sending them with what it says. */
export function useDrafts(form: string) {
  const { held, release } = usePhotos()
  const drafts = held.filter(({ draftOf }) => draftOf === form)
  const send = (patch: PhotoPatch) => {
    for (const { id } of drafts) release(id, patch)
  }
  return { drafts, send }
}

type DraftPhotoProps = {
  /** The form it belongs to, by a name of its own on this device. */
  readonly form: string
  readonly pieceId: PieceId
  readonly view: PhotoView
  readonly word: string
}

/** The photograph, or the way to take it. */
export function DraftPhoto({ form, pieceId, view, word }: DraftPhotoProps) {
  const { drafts } = useDrafts(form)
  const { add, drop } = usePhotos()
  const me = useWho()?.personId ?? null
  const [why, setWhy] = useState<PhotoRefusal | null>(null)
  const take = async (file: File) => {
    const said = { entryId: null, view, scaleBarMm: null, caption: '', owner: '', licence: '' }
    setWhy(await add({ pieceId, file, draftOf: form, said: { ...said, takenAt: takenAtOf(file), takenBy: me } }))
  }
  return (
    <div>
      {drafts.map((photo) => (
        <div key={photo.id} className="flex flex-wrap items-center gap-3">
          <FilePicture file={photo.file} label={`Photograph: ${sayViewHead(view)}`} heightPx={72} />
          <span className="flex-1 text-small text-umber">Goes with this, and lies on this device until then.</span>
          <Button kind="quiet" onClick={() => drop(photo.id)}>
            Let it go
          </Button>
        </div>
      ))}
      {drafts.length > 0 ? null : <ChooseFile word={word} onFiles={([file]) => void (file && take(file))} />}
      {why === null ? null : (
        <p role="alert" className="mt-2 border-l-[5px] border-ink pl-3">
          It is not taken. {sayPhotoRefusal[why]}
        </p>
      )}
    </div>
  )
}
