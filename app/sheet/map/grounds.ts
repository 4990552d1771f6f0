// What an exposure map of a piece can be drawn on: its photographs, and paper for the views that have none.
import { type Ground, isSameGround, type PhotoNow } from '#lib/rules'
import type { Photo, PhotoView, Stroke } from '#lib/words'
import { sayViewHead } from '../../_text/index.ts'
import { titleOf } from '../photos/look.tsx'

export type Drawable = {
  readonly key: string
  readonly ground: Ground
  readonly name: string
  /** The photograph, where it is one. */
  readonly photo: Readonly<Photo> | null
  /** Width over height. */
  readonly ratio: number
  readonly strokes: readonly Readonly<Stroke>[]
}

/** Paper is a landscape sheet. */
const PAPER_RATIO = 4 / 3
const paperViews: readonly PhotoView[] = ['dorsal', 'ventral', 'left lateral', 'right lateral', 'anterior', 'posterior']

/** All of them, those with strokes first, and among them the one last drawn on. */
export function drawablesOf(photos: readonly PhotoNow[], strokes: readonly Readonly<Stroke>[]): readonly Drawable[] {
  const on = (ground: Ground) => strokes.filter((stroke) => isSameGround(stroke, ground))
  const onPhotos = photos.map(({ photo }): Drawable => {
    const ground = { photoHash: photo.hash, view: null }
    const ratio = photo.widthPx / photo.heightPx
    return { key: photo.hash, ground, name: titleOf(photo), photo, ratio, strokes: on(ground) }
  })
  const onPaper = paperViews.map((view): Drawable => {
    const ground = { photoHash: null, view }
    const name = `${sayViewHead(view)}, on paper`
    return { key: view, ground, name, photo: null, ratio: PAPER_RATIO, strokes: on(ground) }
  })
  const lastOf = ({ strokes: drawn }: Drawable) => drawn.at(-1)?.at ?? ''
  return [...onPhotos.toReversed(), ...onPaper].toSorted(
    (a, b) => Number(lastOf(a) < lastOf(b)) - Number(lastOf(a) > lastOf(b)),
  )
}
