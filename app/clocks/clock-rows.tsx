'use client'
// What runs by itself, the soonest end first, each with the ways it goes on.
import Link from 'next/link'
import { timeOfMinute } from '#lib/base'
import type { Clock, Records } from '#lib/words'
import { useNow } from '../_board/index.ts'
import { DialogButton, Row, Rows } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { namesIn, sayClockWhat, sayLabTime } from '../_text/index.ts'
import { EndForm, MoveForm } from './end-form.tsx'

type ClockRowsProps = {
  readonly records: Records
  readonly clocks: readonly Readonly<Clock>[]
  /** Whether whoever looks may write on the piece of a clock. */
  readonly mayAct: (pieceId: string) => boolean
  /** On the piece's own Sheet its number is known. */
  readonly isOnSheet?: boolean
}

/** The rows. */
export function ClockRows({ records, clocks, mayAct, isOnSheet = false }: ClockRowsProps) {
  const now = useNow(60_000)
  const say = namesIn(records)
  const moment = `${now.date} ${timeOfMinute(now.minute)}`
  return (
    <Rows label="What runs by itself, the soonest end first">
      {clocks.map((clock) => {
        const isOver = `${clock.ends.date} ${clock.ends.time}` <= moment
        const title = sayClockWhat(clock)
        const number = say.piece(clock.pieceId)
        const then = clock.next.map(({ what }) => what)
        const note = [
          `since ${sayLabTime(clock.begun, now.date)}`,
          then.length === 0 ? '' : `then ${then.join(', ')}`,
          clock.despite === '' ? '' : `nobody there: ${clock.despite}`,
        ]
          .filter((one) => one !== '')
          .join('; ')
        return (
          <Row key={clock.id} height="list" lead={<Mark name="clock" size={24} />}>
            <span className="flex flex-wrap items-center justify-between gap-x-3 gap-y-1">
              <span className="min-w-0">
                {isOnSheet ? null : (
                  <>
                    <Link className="inked underline underline-offset-4" href={`/sheet/${clock.pieceId}`}>
                      {number}
                    </Link>{' '}
                  </>
                )}
                {title}{' '}
                <b>
                  {isOver
                    ? `ended ${sayLabTime(clock.ends, now.date)}: see to it`
                    : `until ${sayLabTime(clock.ends, now.date)}`}
                </b>
                <span className="block text-small text-umber">{note}</span>
              </span>
              {mayAct(clock.pieceId) ? (
                <span className="flex flex-wrap gap-1">
                  <DialogButton
                    kind={isOver ? 'ink' : 'line'}
                    word="It ended…"
                    label={`${title} of ${number} ended`}
                    title={`${title} of ${number}`}
                  >
                    {(close) => <EndForm records={records} clock={clock} onDone={close} />}
                  </DialogButton>
                  <DialogButton
                    kind="quiet"
                    word="Move…"
                    label={`Move the end of ${title} of ${number}`}
                    title={`When ${title.toLowerCase()} of ${number} ends`}
                  >
                    {(close) => <MoveForm records={records} clock={clock} onDone={close} />}
                  </DialogButton>
                </span>
              ) : null}
            </span>
          </Row>
        )
      })}
    </Rows>
  )
}
