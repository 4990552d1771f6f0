// What was found about force on one piece: which techniques of the ladder moved its rock, as last said. So whoever sits
// down next begins with the gentlest that does.
import type { RecordOf, Technique } from '#lib/words'

export type Tried = {
  readonly technique: Readonly<Technique>
  readonly movedRock: boolean
  /** ISO instant of the latest word on it. */
  readonly at: string
}

/**
 * The latest word on each technique of the ladder, gentlest first. A corrected record no longer speaks; where two speak
 * of one moment the stronger claim, that it did not move, counts.
 */
export function triedOn(
  techniques: readonly Readonly<Technique>[],
  logs: readonly RecordOf<'log'>[],
  entries: readonly RecordOf<'entry'>[],
): readonly Tried[] {
  const corrected = new Set([...logs, ...entries].flatMap(({ corrects }) => (corrects === null ? [] : [corrects])))
  const words = [
    ...logs.map((log) => ({ ...log, at: log.finishedAt })),
    ...entries.map(({ detail, ...entry }) => ({ ...entry, movedRock: detail?.movedRock })),
  ].filter((one) => !corrected.has(one.id))
  return techniques
    .filter((one) => one.force !== null)
    .toSorted((a, b) => (a.force ?? 0) - (b.force ?? 0))
    .flatMap((technique) => {
      const told = words
        .flatMap(({ techniqueId, movedRock, at }) =>
          techniqueId === technique.id && movedRock !== undefined ? [{ technique, movedRock, at }] : [],
        )
        .toSorted((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : Number(b.movedRock) - Number(a.movedRock)))
      const last = told.at(-1)
      return last ? [last] : []
    })
}

/** The gentlest technique that moved the rock; null when none is known to. */
export const gentlestOf = (tried: readonly Tried[]): Readonly<Technique> | null =>
  tried.find((one) => one.movedRock)?.technique ?? null
