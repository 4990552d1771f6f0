// One axis of days for all dated work: months as upright rules, weeks as ticks, today in ink. The rows below
// draw their finish windows on the same scale.
import { addDays, dateOfDay, dayNumber, weekdayOf } from '#lib/base'
import { along, type Scale, wordWidth } from './scale.ts'

/** The firsts of the months within a stretch of days, as day numbers. */
export function monthStarts(scale: Scale): readonly number[] {
  const starts: number[] = []
  let date = `${dateOfDay(scale.from).slice(0, 7)}-01`
  while (dayNumber(date) <= scale.to) {
    if (dayNumber(date) >= scale.from) starts.push(dayNumber(date))
    date = `${addDays(date, 31).slice(0, 7)}-01`
  }
  return starts
}

export type TimeAxisProps = {
  readonly scale: Scale
  readonly width: number
  readonly todayDay: number
  readonly todayWord?: string
  /** The month's short name, and the year where it turns. */
  readonly monthWord: (date: string) => string
}

/** The head of the axis; silent for readers, who get the dates in the rows. */
export function TimeAxis({ scale, width, todayDay, todayWord = 'today', monthWord }: TimeAxisProps) {
  const today = along(scale, todayDay)
  const months = monthStarts(scale)
  const gap = months.length < 2 ? 99 : along(scale, months[1] ?? 0) - along(scale, months[0] ?? 0)
  const every = Math.max(1, Math.ceil(34 / Math.max(1, gap)))
  const weeks = gap < 40 ? [] : weekStarts(scale)
  const worded = wordedMonths(months, every, (day) => along(scale, day), today, width, monthWord)
  return (
    <svg className="block overflow-visible" width={width} height={34} viewBox={`0 0 ${width} 34`} aria-hidden="true">
      <path className="stroke-ink" d={`M0 32.500H${width}`} strokeWidth={1.5} />
      {weeks.map((day) => (
        <path key={day} className="stroke-edge" d={`M${along(scale, day)} 27V32`} strokeWidth={1} />
      ))}
      {months.map((day) => {
        const x = along(scale, day)
        const word = worded.get(day)
        return (
          <g key={day}>
            <path className="stroke-line" d={`M${x} 22V34`} strokeWidth={1.2} />
            {word === undefined ? null : (
              <text className="fill-umber" x={x + 5} y={18} fontSize={14}>
                {word}
              </text>
            )}
          </g>
        )
      })}
      <path className="stroke-ink" d={`M${today} 22V34`} strokeWidth={1.5} />
      <text x={Math.max(0, today - 22)} y={18} fontSize={14} fontWeight={680}>
        {todayWord}
      </text>
    </svg>
  )
}

/** Which months are named: not those under "today" or at the edge, and none that the one before would run into. */
function wordedMonths(
  months: readonly number[],
  every: number,
  at: (day: number) => number,
  today: number,
  width: number,
  monthWord: (date: string) => string,
): ReadonlyMap<number, string> {
  const worded = new Map<number, string>()
  let end = 0
  for (const [index, day] of months.entries()) {
    const x = at(day) + 5
    if (index % every !== 0 || Math.abs(x - 5 - today) < 44 || x > width - 21 || x < end) continue
    const word = monthWord(dateOfDay(day))
    worded.set(day, word)
    end = x + wordWidth(word, 14) + 4
  }
  return worded
}

/** The axis's upright rules within one row. */
export function AxisRules({
  scale,
  height,
  todayDay,
}: {
  readonly scale: Scale
  readonly height: number
  readonly todayDay: number
}) {
  return (
    <>
      {monthStarts(scale).map((day) => (
        <path key={day} className="stroke-line" d={`M${along(scale, day)} 0V${height}`} strokeWidth={1} />
      ))}
      <path className="stroke-ink" d={`M${along(scale, todayDay)} 0V${height}`} strokeWidth={1.2} />
    </>
  )
}

function weekStarts(scale: Scale): readonly number[] {
  const days: number[] = []
  for (let day = Math.ceil(scale.from); day <= scale.to; day++) {
    if (weekdayOf(dateOfDay(day)) === 1) days.push(day)
  }
  return days
}
