'use client'
// A photograph that lies on this device, drawn small. The browser decodes it away from the screen's own thread and never
// larger than it is shown, so that forty megapixels stop nobody.
import { useEffect, useRef, useState } from 'react'

type FilePictureProps = { readonly file: Blob; readonly label: string; readonly heightPx?: number }

/** The picture; a word in its place where this browser cannot draw it. */
export function FilePicture({ file, label, heightPx = 96 }: FilePictureProps) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const [isDrawn, setDrawn] = useState<boolean | null>(null)
  useEffect(() => {
    let isGone = false
    const options = { resizeHeight: heightPx * 2, resizeQuality: 'medium' } as const
    createImageBitmap(file, options).then(
      (picture) => {
        const paper = canvas.current
        if (!isGone && paper) {
          paper.width = picture.width
          paper.height = picture.height
          paper.getContext('2d')?.drawImage(picture, 0, 0)
          setDrawn(true)
        }
        picture.close()
      },
      () => {
        if (!isGone) setDrawn(false)
      },
    )
    return () => {
      isGone = true
    }
  }, [file, heightPx])
  return (
    <>
      <canvas
        ref={canvas}
        role="img"
        aria-label={label}
        className={`w-auto max-w-full border border-ink bg-bench ${isDrawn === false ? 'hidden' : ''}`}
        style={{ height: heightPx }}
      />
      {isDrawn === false ? <span className="text-small text-umber">Not shown on this device.</span> : null}
    </>
  )
}
