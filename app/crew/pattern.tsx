'use client'
// The weekly pattern: which shifts of which weekdays somebody usually comes. Each press is kept at once and can be taken
// back; only the person and the manager change it.
import type { RecordOf } from '#lib/words'
import { Notice, Section } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayWeekday } from '../_text/index.ts'
import type { CrewAt } from './use-crew-at.ts'

/** The week as a small table of toggles. */
export function Pattern({ at, person }: { readonly at: CrewAt; readonly person: RecordOf<'person'> }) {
  const { attempt, problem } = useTry()
  const shifts = at.records.lab.get('lab')?.shifts ?? []
  const mayChange = at.isManager || person.id === at.me
  const days = [1, 2, 3, 4, 5, 6, 7].filter((weekday) => shifts.some((shift) => shift.weekdays.includes(weekday)))
  const isOn = (weekday: number, shiftId: string) =>
    person.pattern.some((one) => one.weekday === weekday && one.shiftId === shiftId)
  const toggle = (weekday: number, shiftId: (typeof shifts)[number]['id']) => {
    const others = person.pattern.filter((one) => one.weekday !== weekday || one.shiftId !== shiftId)
    const pattern = isOn(weekday, shiftId) ? others : [...others, { weekday, shiftId }]
    attempt({ kind: 'setPattern', personId: person.id, pattern })
  }
  return (
    <Section title="Comes usually">
      {shifts.length === 0 ? (
        <Notice kind="empty">The lab has no shifts yet.</Notice>
      ) : (
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
                    ) : mayChange ? (
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
      )}
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
    </Section>
  )
}
