'use client'
// The photographs of a piece as a strip, and the ways to add one: taken, chosen or dropped. Loaded after the Sheet has
// painted.
import { useState } from 'react'
import { type PhotoNow, photosOf } from '#lib/rules'
import { useBoard, usePhotos } from '../../_board/index.ts'
import { Dialog, Fold, FoldingSection, Notice } from '../../_parts/controls/index.ts'
import type { SheetAt } from '../sheet-at.ts'
import { AddForm } from './add-form.tsx'
import { ChooseFile, DropFiles } from './choose-file.tsx'
import { HeldPhotos } from './held-photos.tsx'
import { Look, titleOf } from './look.tsx'
import { PhotoPicture } from './photo-picture.tsx'

/** The section. */
export function PhotosSection({ at }: { readonly at: SheetAt }) {
  const { id: pieceId, piece, number } = at.sheet
  const mine = useBoard((records) => [...records.photo.values()].filter((one) => one.pieceId === pieceId))
  const all = photosOf(mine)
  const isOnItsWay = usePhotos().held.some((one) => one.pieceId === pieceId)
  const shown = all.filter(({ photo }) => !photo.withdrawn)
  const withdrawn = all.filter(({ photo }) => photo.withdrawn)
  const [files, setFiles] = useState<readonly File[]>([])
  const [openId, setOpenId] = useState<string | null>(null)
  // By what the line began with: a correction must not close what one looks at.
  const open = all.find(({ first }) => first.id === openId)
  return (
    <FoldingSection
      id="photographs"
      title="Photographs"
      brief={isOnItsWay ? null : shown.length === 0 ? 'none yet' : `${shown.length}`}
      aside={shown.length > 0 ? `${shown.length}` : undefined}
    >
      <DropFiles onFiles={at.mayWrite ? setFiles : () => {}}>
        {shown.length === 0 ? <Notice kind="empty">No photograph is on this Sheet yet.</Notice> : null}
        <Strip photos={shown} label="Photographs, oldest first" onOpen={setOpenId} />
        <HeldPhotos pieceId={pieceId} withDrafts />
        {at.mayWrite ? (
          <div className="no-print flex flex-wrap items-center gap-3 pt-3">
            <ChooseFile word="Add photographs…" isMany onFiles={setFiles} />
            <span className="text-small text-umber">or drop them here. JPEG, PNG or WebP, up to 128 MB.</span>
          </div>
        ) : null}
      </DropFiles>
      {at.isStaff && withdrawn.length > 0 ? (
        <Fold title={`Withdrawn: ${withdrawn.length}`} className="no-print pt-2">
          <Strip photos={withdrawn} label="Withdrawn photographs" onOpen={setOpenId} />
        </Fold>
      ) : null}
      <Dialog isOpen={files.length > 0} title={`Photographs of ${number}`} onClose={() => setFiles([])}>
        <AddForm pieceId={piece.id} files={files} onDone={() => setFiles([])} />
      </Dialog>
      <Dialog
        isOpen={open !== undefined}
        width="wide"
        title={open ? titleOf(open.photo) : ''}
        onClose={() => setOpenId(null)}
      >
        {open ? <Look at={at} now={open} onDone={() => setOpenId(null)} /> : null}
      </Dialog>
    </FoldingSection>
  )
}

type StripProps = {
  readonly photos: readonly PhotoNow[]
  readonly label: string
  readonly onOpen: (firstId: string) => void
}

function Strip({ photos, label, onOpen }: StripProps) {
  if (photos.length === 0) return null
  return (
    <ul className="flex flex-wrap gap-x-4 gap-y-3 pt-3" aria-label={label}>
      {photos.map(({ photo, first }) => (
        <li key={first.id} className="w-36 max-w-[calc(50%-0.5rem)]">
          <button
            type="button"
            className="block w-full text-left"
            onClick={() => onOpen(first.id)}
            aria-label={`Look at ${titleOf(photo)}`}
          >
            <PhotoPicture
              photo={photo}
              side={320}
              label=""
              className="h-28 w-full border border-ink bg-bench object-cover"
            />
            <span className="line-clamp-2 pt-1 font-firm leading-tight">{titleOf(photo)}</span>
            <span className="block text-small text-umber">
              {photo.scaleBarMm === null ? 'no scale bar' : `bar ${photo.scaleBarMm} mm`}
            </span>
          </button>
        </li>
      ))}
    </ul>
  )
}
