'use client'
// Photographs just chosen, and what is said of them. From here they lie on this device until the lab has them.
import { useState } from 'react'
import type { PhotoRefusal, PieceId } from '#lib/words'
import { type PhotoSaid, usePhotos, useWho } from '../../_board/index.ts'
import { ActForm, Check } from '../../_parts/controls/index.ts'
import { useKeptForm } from '../../_shell/kept-form.ts'
import { sayCount, sayPhotoRefusal } from '../../_text/index.ts'
import { FilePicture } from './file-picture.tsx'
import { blankPhoto, type PhotoFields, PhotoForm, scaleProblem } from './photo-form.tsx'

/** When a file says that it was made; null where it says nothing that can be. */
export function takenAtOf(file: File): string | null {
  const isKnown = file.lastModified > 0 && file.lastModified <= Date.now()
  return isKnown ? new Date(file.lastModified).toISOString() : null
}

type AddFormProps = { readonly pieceId: PieceId; readonly files: readonly File[]; readonly onDone: () => void }

/** The form. */
export function AddForm({ pieceId, files, onDone }: AddFormProps) {
  const { add } = usePhotos()
  const me = useWho()?.personId ?? null
  const { form, set, clear } = useKeptForm<PhotoFields>(`photo.${pieceId}`, blankPhoto)
  const [isMine, setMine] = useState(true)
  const [left, setLeft] = useState<readonly { readonly file: File; readonly why: PhotoRefusal | null }[]>(
    files.map((file) => ({ file, why: null })),
  )
  const [isBusy, setBusy] = useState(false)
  const waiting = left.filter(({ why }) => why === null)

  const keep = async () => {
    setBusy(true)
    const said = (file: File): PhotoSaid => ({
      ...form,
      scaleBarMm: form.scaleBarMm ?? null,
      caption: form.caption.trim(),
      entryId: null,
      takenAt: takenAtOf(file),
      takenBy: isMine ? me : null,
    })
    const answers = await Promise.all(
      waiting.map(async ({ file }) => ({ file, why: await add({ pieceId, file, said: said(file), draftOf: null }) })),
    )
    setBusy(false)
    const refused = [...left.filter(({ why }) => why !== null), ...answers.filter(({ why }) => why !== null)]
    if (refused.length === 0) {
      clear()
      onDone()
    } else setLeft(refused)
  }

  return (
    <ActForm
      act={waiting.length === 0 ? 'Nothing to add' : `Add ${sayCount(waiting.length, 'photograph')}`}
      isOff={isBusy || waiting.length === 0 || scaleProblem(form.scaleBarMm) !== undefined}
      onAct={() => void keep()}
    >
      <ul className="flex flex-wrap gap-3" aria-label="Chosen">
        {left.map(({ file, why }) => (
          <li key={`${file.name} ${file.lastModified} ${file.size}`} className="min-w-0">
            {why === null ? (
              <FilePicture file={file} label={file.name} />
            ) : (
              <p role="alert" className="max-w-prose border-l-[5px] border-ink pl-3">
                <b className="break-all">{file.name}</b> is not taken. {sayPhotoRefusal[why]}
              </p>
            )}
          </li>
        ))}
      </ul>
      <PhotoForm said={form} set={set} />
      <Check label="Taken by me" isOn={isMine} onToggle={setMine} />
    </ActForm>
  )
}
