'use client'
// What a free person could take: pieces that suit them in this shift, one press to claim. Pieces that do not fit yet
// are on the Rack, with why.
import Link from 'next/link'
import { useDeferredValue, useMemo } from 'react'
import { pieceOf, techniqueOf } from '#lib/rules'
import { type Claimable, claimableFor } from '#lib/views'
import type { RecordOf, Records, Shift } from '#lib/words'
import { buttonClass, FieldNumber, Notice, Row, Rows, RowsComing } from '../_parts/controls/index.ts'
import { Stone } from '../_parts/stone/index.ts'
import { sayDate } from '../_text/index.ts'
import { ActButton } from './act-button.tsx'

type ClaimsProps = {
  readonly records: Records
  readonly personId: RecordOf<'person'>['id']
  readonly date: string
  readonly shift: Readonly<Shift>
}

/** The list. */
export function Claims({ records, personId, date, shift }: ClaimsProps) {
  // Going over all that waits takes a moment, on opening as after each edit; what was pressed is painted first.
  const settled = useDeferredValue<Records | null>(records, null)
  const list = useMemo(
    () => settled && claimableFor(settled, personId, date, shift.id),
    [settled, personId, date, shift.id],
  )
  if (list === null) return <RowsComing />
  if (list.length === 0)
    return (
      <Notice
        kind="empty"
        className="mt-3"
        action={
          <Link className={buttonClass('line')} href="/rack">
            See the Rack, with why
          </Link>
        }
      >
        Nothing that waits suits you in this shift.
      </Notice>
    )
  return (
    <>
      <Rows label="You could claim" className="mt-2 border-t border-ink">
        {list.map((one) => (
          <ClaimRow key={one.pieceId} records={records} one={one} date={date} shift={shift} />
        ))}
      </Rows>
      <p className="pt-1">
        <Link href="/rack" className="inline-flex min-h-11 items-center underline underline-offset-4">
          All that waits, with what fits you
        </Link>
      </p>
    </>
  )
}

function ClaimRow({ records, one, date, shift }: Omit<ClaimsProps, 'personId'> & { readonly one: Claimable }) {
  const piece = pieceOf(records, one.pieceId)
  const step = records.step.get(one.stepId)
  const place = records.place.get(one.placeId)
  const technique = step && techniqueOf(records, step.techniqueId)
  if (!piece || !step || !place || !technique) return null
  const number = 'number' in piece ? piece.number : piece.fieldNumber
  const stage = 'stage' in piece ? piece.stage : piece.state === 'sealed' ? 'sealed' : 'opened'
  const why = [
    one.isKnown ? 'you have worked on it' : '',
    one.dueOn === null ? '' : `due ${sayDate(one.dueOn, 'short')}`,
    one.isLoved ? 'work you love' : '',
  ].filter(Boolean)
  return (
    <Row
      height="action"
      lead={<Stone seed={piece.id} stage={stage} size={54} lengthM={piece.lengthM} widthM={piece.widthM} />}
      note={
        <>
          {technique.name}, at {place.code}
          {why.length > 0 ? <span className="block">{why.join(', ')}</span> : null}
        </>
      }
      end={
        <ActButton
          word="Claim"
          kind="ink"
          mark="claim"
          label={`Claim ${number}`}
          done={`${number} is yours, at ${place.code}.`}
          act={{ kind: 'claim', date, shiftId: shift.id, pieceId: piece.id, stepId: step.id, placeId: place.id }}
        />
      }
    >
      {/* A thumb's height, without making the row higher than its words. */}
      <Link href={`/sheet/${piece.id}`} className="-my-3.5 block py-3.5 underline-offset-4 hover:underline">
        <FieldNumber>{number}</FieldNumber>{' '}
        <span className="named">{'number' in piece ? piece.name : piece.contents}</span>
      </Link>
    </Row>
  )
}
