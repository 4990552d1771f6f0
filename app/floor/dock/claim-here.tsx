'use client'
// A free seat, for whoever looks at it: what lies here and could be claimed for this shift, with the reason where not;
// the rest of the Rack is one step away.
import Link from 'next/link'
import type { Floor, PlaceOnFloor } from '#lib/views'
import { openSteps } from '#lib/views'
import { useWho, useWouldRefuse } from '../../_board/index.ts'
import { Button, buttonClass, Notice } from '../../_parts/controls/index.ts'
import { useTry } from '../../_shell/use-try.ts'
import { sayFindings } from '../../_text/index.ts'
import type { FloorAt } from '../use-floor.ts'

export type ClaimHereProps = { readonly at: FloorAt; readonly floor: Floor; readonly entry: PlaceOnFloor }

/** Claims at this place; silent for who has a seat already or manages the line-up. */
export function ClaimHere({ at, floor, entry }: ClaimHereProps) {
  const who = useWho()
  const wouldRefuse = useWouldRefuse()
  const { attempt, problem } = useTry()
  const { shift } = at
  if (!who || !shift || who.role === 'manager') return null
  const isSeated = floor.places.some((place) => place.sitters.some((sitter) => sitter.personId === who.personId))
  if (isSeated) return null
  const bodies = entry.pieces.flatMap((piece) =>
    openSteps(at.records, piece.pieceId).map((step) => ({
      piece,
      step,
      body: {
        kind: 'claim' as const,
        date: at.date,
        shiftId: shift.id,
        pieceId: step.pieceId,
        stepId: step.id,
        placeId: entry.place.id,
      },
    })),
  )
  return (
    <div className="flex flex-col gap-2">
      {bodies.map(({ piece, step, body }) => {
        const findings = wouldRefuse(body)
        const technique = at.records.lab.get('lab')?.techniques.find((one) => one.id === step.techniqueId)
        return findings.length === 0 ? (
          <Button key={step.id} kind="ink" mark="claim" onClick={() => attempt(body)}>
            Claim <span className="inked">{piece.number}</span> {technique?.short ?? step.title}
          </Button>
        ) : (
          <Notice key={step.id} kind="plain" mark="leftout">
            <b>Not yet: {step.title.toLowerCase()}.</b> {sayFindings(findings, at.records)}
          </Notice>
        )
      })}
      {problem === undefined ? null : <Notice kind="lost">{problem}</Notice>}
      <Link
        className={buttonClass('line')}
        href={`/rack?fit=me&day=${at.date}&shift=${shift.id}&place=${entry.place.id}`}
      >
        Choose from the Rack
      </Link>
    </div>
  )
}
