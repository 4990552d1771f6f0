'use client'
// A week as a small table of toggles: which shifts of which weekdays somebody comes.
import type { Person, Shift } from '#lib/words'
import { Mark } from '../_parts/marks/index.ts'
import { sayWeekday } from '../_text/index.ts'

type Pattern = Person['pattern']

export type PatternTableProps = {
  readonly shifts: readonly Readonly<Shift>[]
  readonly pattern: Readonly<Pattern>
  /** Takes the week with one press in it; left out, the table is only read. */
  readonly onChange?: ((pattern: Pattern) => void) | undefined
}

/** The table. */
export function PatternTable({ shifts, pattern, onChange }: PatternTableProps) {
  const days = [1, 2, 3, 4, 5, 6, 7].filter((weekday) => shifts.some((shift) => shift.weekdays.includes(weekday)))
  const isOn = (weekday: number, shiftId: string) =>
    pattern.some((one) => one.weekday === weekday && one.shiftId === shiftId)
  const toggle = (weekday: number, shiftId: Shift['id']) => {
    const others = pattern.filter((one) => one.weekday !== weekday || one.shiftId !== shiftId)
    onChange?.(isOn(weekday, shiftId) ? others : [...others, { weekday, shiftId }])
  }
  return (
    <table className="pattern mt-2">
      <thead>
        <tr>
          <td />
          {days.map((weekday) => (
            <th key={weekday} scope="col" className="text-small font-firm" abbr={sayWeekday(weekday)}>
              {sayWeekday(weekday).slice(0, 2)}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {shifts.map((shift) => (
          <tr key={shift.id}>
            <th scope="row" className="pr-3 text-left text-small font-firm">
              {shift.name}
            </th>
            {days.map((weekday) => (
              <td key={weekday} className="text-center">
                {!shift.weekdays.includes(weekday) ? (
                  <span className="sr-only">not held</span>
                ) : onChange ? (
                  <button
                    type="button"
                    className="pattern-cell"
                    aria-pressed={isOn(weekday, shift.id)}
                    aria-label={`${sayWeekday(weekday)} ${shift.name.toLowerCase()}`}
                    onClick={() => toggle(weekday, shift.id)}
                  >
                    {isOn(weekday, shift.id) ? <Mark name="tick" size={20} /> : null}
                  </button>
                ) : (
                  <span className={`pattern-cell ${isOn(weekday, shift.id) ? 'pattern-on' : ''}`}>
                    <span className="sr-only">{isOn(weekday, shift.id) ? 'comes' : 'does not come'}</span>
                    {isOn(weekday, shift.id) ? <Mark name="tick" size={20} /> : null}
                  </span>
                )}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  )
}
