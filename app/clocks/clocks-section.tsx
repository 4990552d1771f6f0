'use client'
// What runs by itself: of the whole room on the Floor, of one piece on its Sheet, where the next can be begun.
import { clocksRunning } from '#lib/rules'
import { isOnPiece } from '#lib/views'
import type { PieceId } from '#lib/words'
import { useBoard, useNow, useWho } from '../_board/index.ts'
import { DialogButton, FoldingSection, Section } from '../_parts/controls/index.ts'
import { ClockRows } from './clock-rows.tsx'
import { StartForm } from './start-form.tsx'

/** Of the room; nothing where nothing runs. */
export function RoomClocks() {
  const records = useBoard((board) => board)
  const who = useWho()
  const now = useNow(60_000)
  const clocks = clocksRunning(records)
  if (clocks.length === 0 || !who || now.ms === 0) return null
  const isStaff = who.role === 'manager' || who.role === 'preparator'
  const mayAct = (pieceId: string) => isStaff || isOnPiece(records, who.personId, pieceId, now.date)
  return (
    <Section title="Runs by itself" aside={`${clocks.length}`}>
      <ClockRows records={records} clocks={clocks} mayAct={mayAct} />
    </Section>
  )
}

type PieceClocksProps = { readonly pieceId: PieceId; readonly number: string; readonly mayWrite: boolean }

/** Of one piece. */
export function PieceClocks({ pieceId, number, mayWrite }: PieceClocksProps) {
  const records = useBoard((board) => board)
  const clocks = clocksRunning(records, pieceId)
  if (clocks.length === 0 && !mayWrite) return null
  return (
    <FoldingSection
      id="clocks"
      title="Runs by itself"
      brief={clocks.length === 0 ? 'nothing' : null}
      aside={clocks.length > 0 ? `${clocks.length}` : undefined}
    >
      <ClockRows records={records} clocks={clocks} mayAct={() => mayWrite} isOnSheet />
      {mayWrite ? (
        <DialogButton
          mark="clock"
          word="Begin a clock…"
          title={`What of ${number} ends by itself`}
          className="no-print mt-3"
        >
          {(close) => <StartForm records={records} pieceId={pieceId} onDone={close} />}
        </DialogButton>
      ) : null}
    </FoldingSection>
  )
}
