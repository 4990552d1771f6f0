// What ran in somebody's hands on a day, as it is kept: minutes and what was known of each tool then. The figures are
// computed from it whenever they are shown, so a corrected minute or a better formula reaches the past as well.
import type { ExposureMonth, Log, Records, Technique, Work } from '#lib/words'
import { backgroundAt } from './exposure.ts'
import { techniqueOf } from './find.ts'

/** Version of the formulas in lib/limits for vibration and noise of a day; raised when one of them changes. */
const EXPOSURE_FORMULA = 1

type Day = ExposureMonth['days'][number]
type Tool = Day['tools'][number]

/** One technique's minutes at a place, with what is known of its tool and of the noise around it. */
export function toolMinutes(records: Records, technique: Readonly<Technique>, placeId: string, minutes: number): Tool {
  const backgroundDba = backgroundAt(records, placeId)
  const { id, name, vibrationMs2, vibrationSource, noiseDba, noiseSource } = technique
  return {
    techniqueId: id,
    name,
    minutes,
    vibrationMs2,
    vibrationSource,
    noiseDba,
    noiseSource,
    ...(backgroundDba !== undefined && { backgroundDba }),
  }
}

/** A month's record with more work laid into it; null when nothing of it ran in the hand. */
export function exposureWith(
  records: Records,
  personId: ExposureMonth['personId'],
  works: readonly Readonly<Work>[],
): readonly ExposureMonth[] {
  const months = new Map<string, ExposureMonth>()
  for (const work of works) {
    const technique = techniqueOf(records, work.techniqueId)
    if (!technique || work.runningMinutes === 0) continue
    const month = work.date.slice(0, 7)
    const id = `${month}.${personId}`
    const former = months.get(id) ?? records.exposureMonth.get(id) ?? { id, personId, month, days: [] }
    months.set(id, {
      ...former,
      days: withTool(former.days, work.date, toolMinutes(records, technique, work.placeId, work.runningMinutes)),
    })
  }
  return [...months.values()]
}

/** A past day's minutes after its log was corrected; null when the day is not kept yet. */
export function exposureCorrected(
  records: Records,
  old: Pick<Log, 'personId' | 'date' | 'techniqueId' | 'placeId' | 'runningMinutes'>,
  runningMinutes: number,
): ExposureMonth | null {
  const former = records.exposureMonth.get(`${old.date.slice(0, 7)}.${old.personId}`)
  const technique = techniqueOf(records, old.techniqueId)
  if (!former?.days.some(({ date }) => date === old.date) && !(former && runningMinutes > 0)) return null
  if (!former || !technique) return null
  const more = runningMinutes - old.runningMinutes
  return { ...former, days: withTool(former.days, old.date, toolMinutes(records, technique, old.placeId, more)) }
}

/** Days in order, with the tool's minutes added to those of its technique on that day; never below nought. */
function withTool(days: readonly Day[], date: string, tool: Tool): Day[] {
  const day = days.find((one) => one.date === date) ?? { date, formula: EXPOSURE_FORMULA, tools: [] }
  const alike = day.tools.filter(({ techniqueId }) => techniqueId === tool.techniqueId)
  // Elsewhere it was louder or quieter. A correction finds its minutes again also where the place was measured since.
  const same =
    alike.find((one) => one.backgroundDba === tool.backgroundDba) ??
    (tool.minutes < 0 ? alike.toSorted((a, b) => b.minutes - a.minutes)[0] : undefined)
  const sum = { ...(same ?? tool), minutes: Math.max(0, (same?.minutes ?? 0) + tool.minutes) }
  const tools = same ? day.tools.map((one) => (one === same ? sum : one)) : [...day.tools, sum]
  return [...days.filter((one) => one.date !== date), { ...day, tools }].sort((a, b) => (a.date < b.date ? -1 : 1))
}
