'use client'
// A kept photograph as the lab's server gives it: small for a strip, larger to look at, whole to take away.
import { useEffect, useState } from 'react'
import type { Photo } from '#lib/words'
import { useSave } from '../../_board/index.ts'
import { addressOf } from '../../_parts/address.ts'
import { type NoPicture, noPictureOf, sayNoPicture, sayWhyNoPicture } from '../../_text/index.ts'

type Size = 320 | 1600 | null

/** Where a photograph of a piece is read from. */
export const photoAddress = ({ hash, pieceId }: Pick<Photo, 'hash' | 'pieceId'>, side: Size): string =>
  addressOf(`/api/photos/${hash}?of=${pieceId}${side === null ? '' : `&side=${side}`}`)

type PhotoPictureProps = {
  readonly photo: Readonly<Photo>
  readonly side: 320 | 1600
  /** What readers hear; empty where the words stand beside it. */
  readonly label: string
  readonly className: string
}

async function askWhy(source: string): Promise<NoPicture> {
  try {
    return noPictureOf((await fetch(source, { method: 'GET' })).status)
  } catch {
    return noPictureOf(null)
  }
}

/** The picture, or what is the matter where it cannot be had. */
export function PhotoPicture({ photo, side, label, className }: PhotoPictureProps) {
  const source = photoAddress(photo, side)
  const [failed, setFailed] = useState('')
  // Back in reach, it is asked for again.
  const asked = `${source} ${useSave().state === 'offline'}`
  const isFailed = failed === asked
  const [why, setWhy] = useState<NoPicture | null>(null)
  useEffect(() => {
    if (!isFailed) return
    let isWanted = true
    setWhy(null)
    void askWhy(source).then((found) => isWanted && setWhy(found))
    return () => {
      isWanted = false
    }
  }, [isFailed, source])
  if (isFailed)
    return (
      <span
        className={`grid place-items-center overflow-hidden bg-bench p-2 text-center text-small text-umber ${className}`}
        role="status"
      >
        <span className="no-picture">
          {why === null ? 'No picture' : (side === 320 ? sayNoPicture : sayWhyNoPicture)[why]}
        </span>
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
