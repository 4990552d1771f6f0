'use client'
// What newcomers go through. A required item stops turns from its day on, so a new one is given time: tick those who know
// it already before that day, on their pages under Crew or all at once here.
import { addDays } from '#lib/base'
import { hasItem, isOfCrew } from '#lib/rules'
import type { InductionItem } from '#lib/words'
import { useBoard, useNewId, useNow } from '../_board/index.ts'
import { Button, Check, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayCount } from '../_text/index.ts'
import { KeptText } from '../room/kept-field.tsx'
import { Problem } from './problem.tsx'
import type { LabInHand } from './use-lab.ts'
import { useList } from './use-list.ts'

/** Days in which those who are here can be ticked before an item asks. */
const NOTICE_DAYS = 7

/** All items, and one more. */
export function InductionForm(hand: LabInHand) {
  const newId = useNewId()
  const { date } = useNow(60_000)
  const { all: items, problem, keepAll, edit, remove } = useList(hand, 'induction')
  return (
    <div className="flex flex-col gap-4">
      {items.length === 0 ? (
        <p className="text-umber">No items yet. Such as: fire exits, eyewash and first aid, how to lift, who to ask.</p>
      ) : null}
      {items.map((item) => (
        <fieldset key={item.id} className="border-b border-line pb-4">
          <legend className="sr-only">{item.name}</legend>
          <div className="grid gap-3 tablet:grid-cols-[1fr_12rem]">
            <KeptText label="Item" value={item.name} onKeep={(name) => edit(item.id, { name })} />
            <TextField
              label="Asked for from"
              type="date"
              value={item.from}
              onChange={(event) => {
                if (event.target.value !== '') edit(item.id, { from: event.target.value })
              }}
            />
          </div>
          <div className="mt-2 flex flex-wrap items-center gap-x-6 gap-y-2">
            <Check
              label="Nobody is put to work before it"
              isOn={item.isRequired}
              onToggle={(isRequired) => edit(item.id, { isRequired })}
            />
            <AllHaveDone item={item} />
            <Button kind="quiet" onClick={() => remove(item.id)}>
              Remove<span className="sr-only"> {item.name}</span>
            </Button>
          </div>
        </fieldset>
      ))}
      <Problem say={problem} />
      <div>
        <Button
          mark="add"
          disabled={date === ''}
          onClick={() =>
            keepAll([
              ...items,
              { id: newId(), name: `Item ${items.length + 1}`, isRequired: true, from: addDays(date, NOTICE_DAYS) },
            ])
          }
        >
          Add an item
        </Button>
      </div>
    </div>
  )
}

/** Ticks everybody of the crew who is not ticked yet. */
function AllHaveDone({ item }: { readonly item: InductionItem }) {
  const { attempt, problem } = useTry()
  const people = useBoard(({ person }) => person)
  const without = [...people.values()].filter((one) => isOfCrew(one) && !hasItem(one, item.id))
  if (without.length === 0) return <span className="text-small text-umber">Everybody has been through it.</span>
  return (
    <>
      <Button
        onClick={() =>
          attempt({
            kind: 'tickInduction',
            itemId: item.id,
            personIds: without.map(({ id }) => id),
            isDone: true,
          })
        }
      >
        Tick all {sayCount(without.length, 'other', 'others')}
        <span className="sr-only"> for {item.name}</span>
      </Button>
      <Problem say={problem} />
    </>
  )
}
