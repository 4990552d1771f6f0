'use client'
// What is kept of somebody's days before: tools in the hand and air samples, computed anew by today's formulas and against
// the limits in force today.
import { airDays, ledgerOf, type SafetyAnswer, silicaDays } from '#lib/views'
import type { RecordOf } from '#lib/words'
import { Fold } from '../_parts/controls/index.ts'
import { sayCount, sayDate, sayNoise } from '../_text/index.ts'
import { sayAirDay } from './say-air.ts'

/** Days shown of those with a tool in the hand; more are in the file of the whole lab. */
const DAYS_MAX = 60

/** Past days and air samples, as the server told them. */
export function KeptDays({ lab, answer }: { readonly lab: RecordOf<'lab'>; readonly answer: SafetyAnswer }) {
  const days = answer.months.flatMap((month) => month.days.toReversed())
  const corrected = new Set(answer.samples.map(({ corrects }) => corrects))
  const air = airDays(
    answer.samples.filter(({ id }) => !corrected.has(id)),
    lab,
  )
  const year = air[0]?.date.slice(0, 4) ?? ''
  return (
    <>
      {days.length === 0 ? null : (
        <Fold title={`Days before, ${sayCount(days.length, 'day')} with a tool in the hand`}>
          <ul className="pb-3 text-small">
            {days.slice(0, DAYS_MAX).map((day) => {
              const past = ledgerOf(
                lab,
                day.tools.map((tool) => ({ ...tool, isDone: true })),
              )
              return (
                <li key={day.date} className="border-b border-line py-1">
                  {sayDate(day.date, 'full')}: A(8) {past.a8Ms2.toFixed(1)} m/s², {Math.round(past.points)} points
                  {past.noise.levelDba === null ? '' : `, ${sayNoise(past.noise.levelDba)}`}
                </li>
              )
            })}
          </ul>
        </Fold>
      )}
      {air.length === 0 ? null : (
        <Fold title={`Air samples, ${sayCount(air.length, 'day')}`}>
          <ul className="pb-3 text-small">
            {air.map((day) => (
              <li key={day.date} className="border-b border-line py-1">
                {sayAirDay(day)}
              </li>
            ))}
            {air.some(({ silica }) => silica !== null && silica.atOrAboveAction !== null) ? (
              <li>
                {sayCount(silicaDays(air, year), 'day')} in {year} at or above the silica action level.
              </li>
            ) : null}
          </ul>
        </Fold>
      )}
    </>
  )
}
