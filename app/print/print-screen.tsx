'use client'
// The Sheets of the chosen pieces one after the other, each on pages of its own: the same form that one Sheet prints.
import { useSearchParams } from 'next/navigation'
import { useState } from 'react'
import { useBoard, useWho } from '../_board/index.ts'
import { addressOf } from '../_parts/address.ts'
import { Button, ButtonFace, buttonClass, Notice, PageHeading, RowsComing } from '../_parts/controls/index.ts'
import { ChoosePiece } from '../_shell/choose-piece.tsx'
import { SheetScreen } from '../sheet/sheet-screen.tsx'

/** Each Sheet is a connection of its own, and a session may have forty. */
const PIECES_MAX = 20

/** The screen. */
export function PrintScreen() {
  const asked = useSearchParams().get('ids') ?? ''
  const who = useWho()
  const records = useBoard((board) => board)
  const [chosen, setChosen] = useState<readonly string[]>(() => asked.split(',').filter(Boolean).slice(0, PIECES_MAX))
  if (who === null || !records.lab.has('lab'))
    return (
      <div className="margin-page">
        <PageHeading title="Records to print" />
        <RowsComing />
      </div>
    )
  const isFull = chosen.length >= PIECES_MAX
  return (
    <>
      <div className="no-print margin-page mx-auto flex max-w-4xl flex-col gap-4 pb-6">
        <PageHeading
          title="Records to print"
          actions={
            <>
              {chosen.length === 0 ? null : (
                <a
                  className={buttonClass('line')}
                  href={addressOf(`/api/out/records.pdf?ids=${chosen.join(',')}`)}
                  download
                >
                  <ButtonFace>Take out as PDF</ButtonFace>
                </a>
              )}
              <Button kind="ink" mark="print" disabled={chosen.length === 0} onClick={() => window.print()}>
                Print
              </Button>
            </>
          }
        />
        <p>
          Each piece begins on a page of its own, its whole treatment record with it. Printed, they are the Sheets as
          they stand on the screen; the PDF is a plain file for whoever has no Talus, with the latest photographs.
        </p>
        {isFull ? (
          <Notice kind="plain">Twenty at a time. Print these, then choose anew.</Notice>
        ) : (
          <ChoosePiece
            records={records}
            onTake={(id) => setChosen((before) => (before.includes(id) ? before : [...before, id]))}
          />
        )}
        {chosen.length === 0 ? (
          <Notice kind="empty">Nothing is chosen yet.</Notice>
        ) : (
          <Button kind="quiet" className="self-start" onClick={() => setChosen([])}>
            Choose anew
          </Button>
        )}
      </div>
      {chosen.map((id, n) => (
        <article
          key={id}
          className={
            n === 0
              ? 'border-t-[1.5px] border-ink print:border-0'
              : 'sheet-break border-t-[1.5px] border-ink print:border-0'
          }
        >
          <SheetScreen pieceId={id} />
        </article>
      ))}
    </>
  )
}
