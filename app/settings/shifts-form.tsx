'use client'
// The parts of the lab's day: a name, two times, the weekdays. Shifts of one day may not overlap; the refusal says so.
import type { ShiftId } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { Button, TextField } from '../_parts/controls/index.ts'
import { sayWeekday } from '../_text/index.ts'
import { KeptText } from '../room/kept-field.tsx'
import { Problem } from './problem.tsx'
import type { LabInHand } from './use-lab.ts'
import { useList } from './use-list.ts'

const weekdays = [1, 2, 3, 4, 5, 6, 7] as const

/** All shifts, and one more. */
export function ShiftsForm(hand: LabInHand) {
  const newId = useNewId()
  const { all: shifts, problem, keepAll, edit, remove } = useList(hand, 'shifts')
  const add = () => {
    const last = shifts[shifts.length - 1]
    // After the last one, so that it overlaps nothing; the manager moves it from there.
    const start = last ? later(last.end, 45) : '09:30'
    keepAll([
      ...shifts,
      {
        id: newId() as ShiftId,
        name: last ? `Shift ${shifts.length + 1}` : 'Morning',
        start,
        end: later(start, 180),
        weekdays: last?.weekdays ?? [1, 2, 3, 4, 5],
      },
    ])
  }
  return (
    <div className="flex flex-col gap-4">
      {shifts.map((shift) => (
        <fieldset key={shift.id} className="border-b border-line pb-4">
          <legend className="sr-only">{shift.name}</legend>
          <div className="grid grid-cols-2 gap-3 tablet:grid-cols-[1fr_9rem_9rem]">
            <div className="col-span-2 tablet:col-span-1">
              <KeptText label="Name" value={shift.name} onKeep={(name) => edit(shift.id, { name })} />
            </div>
            <TextField
              label="From"
              type="time"
              value={shift.start}
              onChange={(event) => {
                if (event.target.value !== '') edit(shift.id, { start: event.target.value })
              }}
            />
            <TextField
              label="To"
              type="time"
              value={shift.end}
              onChange={(event) => {
                if (event.target.value !== '') edit(shift.id, { end: event.target.value })
              }}
            />
          </div>
          <div className="mt-3 flex flex-wrap gap-2">
            {weekdays.map((weekday) => (
              <Button
                key={weekday}
                aria-pressed={shift.weekdays.includes(weekday)}
                aria-label={`${shift.name} on ${sayWeekday(weekday)}`}
                className="min-w-13"
                onClick={() =>
                  edit(shift.id, {
                    weekdays: shift.weekdays.includes(weekday)
                      ? shift.weekdays.filter((one) => one !== weekday)
                      : [...shift.weekdays, weekday].toSorted(),
                  })
                }
              >
                {sayWeekday(weekday).slice(0, 2)}
              </Button>
            ))}
            <Button kind="quiet" onClick={() => remove(shift.id)}>
              Remove<span className="sr-only"> {shift.name}</span>
            </Button>
          </div>
        </fieldset>
      ))}
      <Problem say={problem} />
      <div>
        <Button mark="add" onClick={add}>
          Add a shift
        </Button>
      </div>
    </div>
  )
}

/** A time so many minutes later, at most the end of the day. */
function later(time: string, minutes: number): string {
  const at = Math.min(23 * 60 + 59, Number(time.slice(0, 2)) * 60 + Number(time.slice(3, 5)) + minutes)
  return `${String(Math.floor(at / 60)).padStart(2, '0')}:${String(at % 60).padStart(2, '0')}`
}
