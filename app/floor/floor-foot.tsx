'use client'
// What stands beneath the plan: the air, the key, what waits on the racks, who is here, and the room as a list.
import type { Floor } from '#lib/views'
import { useWho } from '../_board/index.ts'
import { Button, Fold } from '../_parts/controls/index.ts'
import { useSeasonOnce } from '../season/use-season.ts'
import { AirStrip } from './air-strip.tsx'
import { PlanKey } from './plan-key.tsx'
import { RackLine } from './rack-line.tsx'
import { RoundList } from './round-list.tsx'
import type { FloorAt } from './use-floor.ts'
import { WhoIsHere } from './who-is-here.tsx'

export type FloorFootProps = {
  readonly at: FloorAt
  readonly floor: Floor
  /** On a phone the list is the Floor itself and stands elsewhere. */
  readonly isDot: boolean
}

/** All of it. */
export function FloorFoot({ at, floor, isDot }: FloorFootProps) {
  const role = useWho()?.role
  useSeasonOnce(role !== undefined && role !== 'wall')
  return (
    <>
      <div className="grid gap-x-8 gap-y-3 desk:grid-cols-2">
        <AirStrip records={at.records} floor={floor} />
        {isDot ? null : <PlanKey />}
      </div>
      <RackLine records={at.records} date={at.date} />
      <div className="hidden desk:block">
        <Button kind="quiet" mark="print" onClick={() => window.print()}>
          Print this shift on one page
        </Button>
      </div>
      <WhoIsHere records={at.records} />
      {isDot ? null : (
        <Fold title="Round the room, as a list">
          <RoundList floor={floor} chosenId={at.chosenId} onChoose={at.choose} />
        </Fold>
      )}
    </>
  )
}
