'use client'
// One photograph large, with what is said of it; corrected or withdrawn here, by new records that name the old.
import { useState } from 'react'
import type { PhotoNow } from '#lib/rules'
import type { Photo } from '#lib/words'
import { useNewId } from '../../_board/index.ts'
import { ActForm, Button, buttonClass } from '../../_parts/controls/index.ts'
import { useKeptForm } from '../../_shell/kept-form.ts'
import { useTry } from '../../_shell/use-try.ts'
import { sayBytes, sayViewHead } from '../../_text/index.ts'
import { momentOf, nameOf, type SheetAt } from '../sheet-at.ts'
import { type PhotoFields, PhotoForm, scaleProblem } from './photo-form.tsx'
import { PhotoPicture, photoAddress } from './photo-picture.tsx'

type LookProps = { readonly at: SheetAt; readonly now: PhotoNow; readonly onDone: () => void }

/** The picture and its words. */
export function Look({ at, now, onDone }: LookProps) {
  const { photo } = now
  const [isCorrecting, setCorrecting] = useState(false)
  const { attempt, problem } = useTry()
  const newId = useNewId()
  const mayCorrect = at.isStaff || (at.mayWrite && photo.by === at.me)
  const title = titleOf(photo)
  const correct = (patch: Partial<Photo>): boolean => {
    const { pieceId, view, scaleBarMm, caption, takenAt, takenBy, owner, licence, withdrawn } = { ...photo, ...patch }
    const said = { view, scaleBarMm, caption, takenAt, takenBy, owner, licence, withdrawn }
    return attempt({ kind: 'correctPhoto', photoId: newId(), corrects: photo.id, pieceId, ...said })
  }
  return (
    <div className="flex flex-col gap-4">
      <PhotoPicture
        photo={photo}
        side={1600}
        label={`${at.sheet.number}, ${title}`}
        className="mx-auto h-auto max-h-[62vh] w-auto max-w-full border border-ink bg-bench object-contain"
      />
      <PhotoFacts at={at} now={now} />
      {problem === undefined || isCorrecting ? null : <p role="alert">{problem}</p>}
      {isCorrecting ? (
        <CorrectForm photo={photo} problem={problem} onCorrect={correct} onDone={() => setCorrecting(false)} />
      ) : (
        <div className="flex flex-wrap gap-3">
          {mayCorrect ? <Button onClick={() => setCorrecting(true)}>Correct what is said…</Button> : null}
          {mayCorrect ? (
            <Button
              onClick={() => {
                if (correct({ withdrawn: !photo.withdrawn })) onDone()
              }}
            >
              {photo.withdrawn ? 'Put it back on the Sheet' : 'Withdraw it'}
            </Button>
          ) : null}
          <a className={buttonClass('quiet')} href={photoAddress(photo, null)} target="_blank" rel="noreferrer">
            Full size
          </a>
        </div>
      )}
    </div>
  )
}

/** A photograph in a few words: `Dorsal: the left orbit`. */
export const titleOf = ({ view, caption }: Pick<Photo, 'view' | 'caption'>): string =>
  caption === '' ? sayViewHead(view) : `${sayViewHead(view)}: ${caption}`

function PhotoFacts({ at, now }: Omit<LookProps, 'onDone'>) {
  const { photo, first } = now
  const taken = [
    photo.takenBy === null ? '' : `by ${nameOf(at, photo.takenBy)}`,
    photo.takenAt === null ? '' : momentOf(at, photo.takenAt),
  ].filter(Boolean)
  const lines = [
    photo.scaleBarMm === null ? 'No scale bar in it.' : `Scale bar ${photo.scaleBarMm} mm.`,
    `${photo.widthPx} × ${photo.heightPx} pixels, ${sayBytes(photo.bytes)}.`,
    taken.length === 0 ? '' : `Taken ${taken.join(', ')}.`,
    `Added by ${nameOf(at, first.by)}, ${momentOf(at, first.at)}.`,
    photo.id === first.id
      ? ''
      : `${photo.withdrawn ? 'Withdrawn' : 'Corrected'} by ${nameOf(at, photo.by)}, ${momentOf(at, photo.at)}; what stood before stays on record.`,
    photo.owner === '' ? '' : `Owner: ${photo.owner}.`,
    photo.licence === '' ? '' : `Licence: ${photo.licence}.`,
  ]
  return <p className="text-small text-umber">{lines.filter(Boolean).join(' ')}</p>
}

type CorrectFormProps = {
  readonly photo: Readonly<Photo>
  readonly problem: string | undefined
  readonly onCorrect: (patch: Partial<Photo>) => boolean
  readonly onDone: () => void
}

function CorrectForm({ photo, problem, onCorrect, onDone }: CorrectFormProps) {
  const { view, scaleBarMm, caption, owner, licence } = photo
  const was: PhotoFields = { view, scaleBarMm: scaleBarMm ?? undefined, caption, owner, licence }
  const { form, set, clear } = useKeptForm<PhotoFields>(`photo.correct.${photo.id}`, was)
  return (
    <ActForm
      act="Correct it"
      problem={problem}
      isOff={scaleProblem(form.scaleBarMm) !== undefined}
      others={
        <Button
          kind="quiet"
          onClick={() => {
            clear()
            onDone()
          }}
        >
          Leave it
        </Button>
      }
      onAct={() => {
        if (!onCorrect({ ...form, scaleBarMm: form.scaleBarMm ?? null, caption: form.caption.trim() })) return
        clear()
        onDone()
      }}
    >
      <PhotoForm said={form} set={set} />
    </ActForm>
  )
}
