'use client'
// One's place was changed by another hand: said first, aloud too, until one has seen it. It lies on the lab's own record,
// so it is there after a reload and on another device.
import { reseatsOf } from '#lib/views'
import type { RecordOf, Records } from '#lib/words'
import { Button, Live, Notice } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { sayReseat } from './say-reseat.ts'

type ReseatsProps = {
  readonly records: Records
  readonly personId: RecordOf<'person'>['id']
  readonly today: string
}

/** All changes that are not seen yet; nothing when there are none. */
export function Reseats({ records, personId, today }: ReseatsProps) {
  const { attempt, problem } = useTry()
  const reseats = reseatsOf(records, personId, today)
  const words = reseats.map((one) => sayReseat(records, one, today))
  const said = words.join(' ')
  return (
    <>
      <Live message={said} isUrgent />
      {reseats.length === 0 ? null : (
        <Notice
          kind="plain"
          mark="move"
          className="my-3 border-[2.6px] border-ink bg-plaster p-3"
          action={
            <Button
              kind="ink"
              size="action"
              onClick={() => {
                for (const { told } of reseats) attempt({ kind: 'seenReseat', assignmentId: told.id })
              }}
            >
              Seen
            </Button>
          }
        >
          <ul className="text-say font-firm">
            {words.map((word) => (
              <li key={word}>{word}</li>
            ))}
          </ul>
          {problem === undefined ? null : <p>{problem}</p>}
        </Notice>
      )}
    </>
  )
}
