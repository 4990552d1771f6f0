'use client'
// Choosing photographs: from the camera or the files of a phone, from the files of a laptop, by dropping them.
import { type DragEvent, type ReactNode, useId, useState } from 'react'
import { ButtonFace, type ButtonKind, buttonClass } from '../../_parts/controls/index.ts'

/** Asking for these makes phones hand over JPEG where they keep something of their own. */
const ACCEPT = 'image/jpeg,image/png,image/webp'

type ChooseFileProps = {
  readonly word: string
  readonly kind?: ButtonKind
  readonly isMany?: boolean
  readonly onFiles: (files: readonly File[]) => void
}

/** A button that opens the system's own choice of camera and files. */
export function ChooseFile({ word, kind = 'line', isMany = false, onFiles }: ChooseFileProps) {
  const id = useId()
  return (
    <span className="inline-flex">
      <input
        id={id}
        type="file"
        accept={ACCEPT}
        multiple={isMany}
        className="peer sr-only"
        onChange={(event) => {
          const files = [...(event.target.files ?? [])]
          // The same file may be chosen again after it was let go.
          event.target.value = ''
          if (files.length > 0) onFiles(files)
        }}
      />
      <label
        htmlFor={id}
        className={`${buttonClass(kind)} cursor-pointer peer-focus-visible:outline-[3px] peer-focus-visible:outline-offset-2 peer-focus-visible:outline-ink`}
      >
        <ButtonFace mark="photo">{word}</ButtonFace>
      </label>
    </span>
  )
}

type DropFilesProps = { readonly onFiles: (files: readonly File[]) => void; readonly children: ReactNode }

/** A part of the page that files may be dropped on; the button says the same. */
export function DropFiles({ onFiles, children }: DropFilesProps) {
  const [isOver, setOver] = useState(false)
  const over = (event: DragEvent, is: boolean) => {
    if (!event.dataTransfer.types.includes('Files')) return
    event.preventDefault()
    setOver(is)
  }
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: a dropped file has the button beside it for every other hand
    <div
      className={isOver ? 'outline-2 outline-offset-4 outline-ink outline-dashed' : ''}
      onDragEnter={(event) => over(event, true)}
      onDragOver={(event) => over(event, true)}
      onDragLeave={(event) => over(event, false)}
      onDrop={(event) => {
        over(event, false)
        if (event.dataTransfer.files.length > 0) onFiles([...event.dataTransfer.files])
      }}
    >
      {children}
    </div>
  )
}
