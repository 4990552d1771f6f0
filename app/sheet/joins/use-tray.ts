'use client'
// The tray of a piece as the screen needs it: fragments, what counts of each pair, assemblies, and the advice. The
// likeness of edges is studied anew only when something was measured or the known fits have doubled.
import { useMemo } from 'react'
import { advise, assembliesOf, joinOrder, studyRound, studyTray } from '#lib/joins'
import { fragmentsOf, lastJoins, lastTries } from '#lib/rules'
import type { FragmentPair, Records } from '#lib/words'

const ofPiece = <T extends { readonly pieceId: string }>(map: ReadonlyMap<string, T>, pieceId: string) =>
  [...map.values()].filter((one) => one.pieceId === pieceId)

export type Tray = ReturnType<typeof useTray>

/** Everything of the tray; anew when one of its records is. */
export function useTray({ fragment, pairTry, join }: Records, pieceId: string) {
  const fragments = useMemo(() => fragmentsOf(ofPiece(fragment, pieceId)), [fragment, pieceId])
  const tries = useMemo(() => ofPiece(pairTry, pieceId), [pairTry, pieceId])
  const joins = useMemo(() => lastJoins(ofPiece(join, pieceId)), [join, pieceId])
  const round = studyRound(tries)
  // biome-ignore lint/correctness/useExhaustiveDependencies: studied with the tries of the moment, again at the next round
  const study = useMemo(() => studyTray(fragments, tries), [fragments, round])
  const advice = useMemo(() => advise(study, tries), [study, tries])
  return useMemo(() => {
    const last = lastTries(tries)
    const fits: FragmentPair[] = [...last.values()].filter(({ result }) => result === 'fit').map(({ pair }) => pair)
    const glued = [...joins.values()].filter(({ state }) => state === 'glued').map(({ pair }) => pair)
    return {
      fragments,
      study,
      advice,
      last,
      joins,
      fits,
      glued,
      assemblies: assembliesOf(fragments, fits).filter((group) => group.length > 1),
      order: joinOrder(fragments, fits, glued),
    }
  }, [fragments, study, advice, tries, joins])
}
