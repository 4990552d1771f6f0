'use client'
// A photograph that lies on this device, drawn small. The browser decodes an image element on threads of its own and at
// the size it is shown; drawing it on a canvas of ours would scale forty megapixels on the screen's thread.
import { useEffect, useState } from 'react'

type FilePictureProps = { readonly file: Blob; readonly label: string; readonly heightPx?: number }

/** The picture; a word in its place where this browser cannot draw it. */
export function FilePicture({ file, label, heightPx = 96 }: FilePictureProps) {
  const [source, setSource] = useState('')
  const [isBroken, setBroken] = useState(false)
  useEffect(() => {
    const made = URL.createObjectURL(file)
    setSource(made)
    setBroken(false)
    return () => URL.revokeObjectURL(made)
  }, [file])
  if (isBroken) return <span className="text-small text-umber">Not shown on this device.</span>
  if (source === '') return <span className="block" style={{ height: heightPx }} />
  return (
    <img
      src={source}
      alt={label}
      decoding="async"
      className="w-auto max-w-full border border-ink bg-bench object-contain"
      style={{ height: heightPx }}
      onError={() => setBroken(true)}
    />
  )
}
