'use client'
// What is open about a place's safety: checks before use, what is in use beside it, and the usual cautions of the work done
// there in the chosen shift; one's own are read here as on My shift.
import { assignmentsOn, mixingOfDay } from '#lib/rules'
import type { PlaceId } from '#lib/words'
import { useWho } from '../_board/index.ts'
import { Fold, Row, Rows } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import type { FloorAt } from '../floor/use-floor.ts'
import { atWork, cautionsOfTurns } from '../mine/cautions.ts'
import { Mind } from '../mine/mind.tsx'
import { CheckRows } from './check-rows.tsx'
import { MixingNotices } from './mixing-notices.tsx'

type PlaceSafetyProps = { readonly at: FloorAt; readonly placeId: PlaceId }

/** Nothing at all when there is nothing to say. */
export function PlaceSafety({ at, placeId }: PlaceSafetyProps) {
  const { records, shift, date, today, minute } = at
  const me = useWho()?.personId
  const inShift = assignmentsOn(records, date).filter((turn) => turn.shiftId === shift?.id)
  const mixing = mixingOfDay(records, date, inShift).filter(({ ids }) => ids.place === placeId || ids.at === placeId)
  const here = inShift.filter((turn) => turn.placeId === placeId)
  const mine = here.find((turn) => turn.personId === me)
  const work = mine && atWork(records, mine)
  const others = cautionsOfTurns(
    records,
    here.filter((turn) => turn !== mine),
  )
  return (
    <>
      <CheckRows records={records} now={{ date: today, minute }} shiftId={shift?.id ?? null} placeId={placeId} />
      <MixingNotices records={records} findings={mixing} />
      {work && me !== undefined ? <Mind records={records} turn={work} personId={me} /> : null}
      {others.length === 0 || work ? null : (
        <Fold title="Cautions for the work here">
          <Rows label="Cautions for the work here">
            {others.map(({ key, mark, bold, text }) => (
              <Row key={`${key} ${text}`} lead={<Mark name={mark} size={24} />} height="list">
                {bold === undefined ? null : <strong className="font-strong">{bold} </strong>}
                {text}
              </Row>
            ))}
          </Rows>
        </Fold>
      )}
    </>
  )
}
