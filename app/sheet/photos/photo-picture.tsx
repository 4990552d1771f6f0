'use client'
// A kept photograph as the lab's server gives it: small for a strip, larger to look at, whole to take away.
import { useState } from 'react'
import type { Photo } from '#lib/words'
import { useSave } from '../../_board/index.ts'

type Size = 320 | 1600 | null

/** Where a photograph of a piece is read from. */
export const photoAddress = ({ hash, pieceId }: Pick<Photo, 'hash' | 'pieceId'>, side: Size): string =>
  `/api/photos/${hash}?of=${pieceId}${side === null ? '' : `&side=${side}`}`

type PhotoPictureProps = {
  readonly photo: Readonly<Photo>
  readonly side: 320 | 1600
  /** What readers hear; empty where the words stand beside it. */
  readonly label: string
  readonly className: string
}

/** The picture, or a word where it cannot be had. */
export function PhotoPicture({ photo, side, label, className }: PhotoPictureProps) {
  const source = photoAddress(photo, side)
  const [failed, setFailed] = useState('')
  // Back in reach, it is asked for again.
  const asked = `${source} ${useSave().state === 'offline'}`
  if (failed === asked)
    return (
      <span className={`grid place-items-center bg-bench p-2 text-center text-small text-umber ${className}`}>
        Not in reach now
      </span>
    )
  return (
    <img
      src={source}
      alt={label}
      width={photo.widthPx}
      height={photo.heightPx}
      loading="lazy"
      decoding="async"
      className={className}
      onError={() => setFailed(asked)}
    />
  )
}
