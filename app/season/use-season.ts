'use client'
// The season as the server counts it. Everybody who looks shares one count, so asking again costs little; it is asked
// again when something it rests on has changed and then stayed as it is for a moment.
import { useEffect, useRef, useState } from 'react'
import type { SeasonAnswer, SeasonRefused } from '#lib/season'
import { useAsk, useBoard } from '../_board/index.ts'
import { noteSeason, useLastSeason } from './last-season.ts'

export type SeasonNow = {
  /** The newest season that came; null before the first, and where there is none for this person. */
  readonly season: SeasonAnswer | null
  /** A newer one is being counted. */
  readonly isCounting: boolean
  readonly refused: SeasonRefused['refused'] | null
}

const QUIET_MS = 4000

/** Asks for the season while mounted. */
export function useSeason(): SeasonNow {
  const rests = useBoard(({ lab, place, person, jacket, specimen, step, due }) => ({
    lab,
    place,
    person,
    jacket,
    specimen,
    step,
    due,
  }))
  const isOpen = rests.lab.has('lab')
  const { answer, state, again } = useAsk<SeasonAnswer | SeasonRefused>('season', isOpen ? {} : null)
  const season = useLastSeason()
  const counted = useRef(rests)
  useEffect(() => {
    if (answer !== null && 'kind' in answer) noteSeason(answer)
  }, [answer])
  useEffect(() => {
    if (state !== 'done' || counted.current === rests) return
    const timer = setTimeout(() => {
      counted.current = rests
      again()
    }, QUIET_MS)
    return () => clearTimeout(timer)
  }, [state, rests, again])
  return {
    season,
    isCounting: state === 'asking',
    refused: answer !== null && 'refused' in answer ? answer.refused : null,
  }
}

/** What stands on the first screen is not held up by what may come later. */
const SOON_MS = 5000

/**
 * Asks once, some time after the screen has opened: for screens that show a chance among other things and need not follow
 * each edit.
 */
export function useSeasonOnce(isWanted: boolean): void {
  const [isTime, setTime] = useState(false)
  useEffect(() => {
    const timer = setTimeout(() => setTime(true), SOON_MS)
    return () => clearTimeout(timer)
  }, [])
  const known = useLastSeason()
  const [isKnown] = useState(known !== null)
  const { answer } = useAsk<SeasonAnswer | SeasonRefused>('season', isWanted && isTime && !isKnown ? {} : null)
  useEffect(() => {
    if (answer !== null && 'kind' in answer && answer.isWhole) noteSeason(answer)
  }, [answer])
}
