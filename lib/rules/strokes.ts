// Exposure maps as they count: the strokes that were not wiped out, by what they are drawn on.
import type { Stroke } from '#lib/words'
import { oldestFirst } from './newest.ts'

/** What is drawn on: a photograph by its file, or the paper of a view. */
export type Ground = Readonly<Pick<Stroke, 'photoHash' | 'view'>>

/** Most strokes of one piece that are shown at once. */
export const STROKES_MAX = 1500

/** The strokes of a piece that stand, oldest first. */
export function strokesOf(records: Iterable<Readonly<Stroke>>, pieceId: string): readonly Readonly<Stroke>[] {
  const mine = [...records].filter((one) => one.pieceId === pieceId)
  const wiped = new Set(mine.map(({ withdraws }) => withdraws as string | null))
  return mine.filter(({ id, withdraws }) => withdraws === null && !wiped.has(id)).sort(oldestFirst)
}

export const isSameGround = (a: Ground, b: Ground): boolean => a.photoHash === b.photoHash && a.view === b.view
