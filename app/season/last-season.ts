// The newest season any screen has heard, so that all of them tell the same chances. Held by the tab; nothing is asked
// from here.
import type { SeasonAnswer } from '#lib/season'
import { Cell, useCell } from '../_board/index.ts'

const last = new Cell<SeasonAnswer | null>(null)

/** Notes a season that came. */
export const noteSeason = (season: SeasonAnswer): void => last.set(season)

/** The newest season heard in this tab; null before the first. */
export const useLastSeason = (): SeasonAnswer | null => useCell(last)
