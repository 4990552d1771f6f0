'use client'
// Which sealed jackets to open: worth for their hours first, with what the futures say of each.
import Link from 'next/link'
import type { SeasonAnswer } from '#lib/season'
import type { RecordOf, Records } from '#lib/words'
import { FieldNumber, Fold, Section } from '../_parts/controls/index.ts'
import { Stone } from '../_parts/stone/index.ts'
import { sayChance, sayDate, sayHoursSpan } from '../_text/index.ts'

/** Rows before one asks for the rest. */
const SHOWN = 10

type JacketsProps = { readonly season: SeasonAnswer; readonly records: Records }
type Jacket = SeasonAnswer['jackets'][number]

/** The list. */
export function Jackets({ season, records }: JacketsProps) {
  const sealed = season.jackets.flatMap((one) => {
    const jacket = records.jacket.get(one.pieceId)
    return jacket ? [{ one, jacket }] : []
  })
  return (
    <Section title="Which jackets to open" aside="worth most an hour first">
      {sealed.length === 0 ? (
        <p className="py-2 text-umber">No sealed jacket is chosen for the season. Choose some on the Rack.</p>
      ) : null}
      <ol aria-label="Sealed jackets of the season, worth most an hour first">
        {sealed.slice(0, SHOWN).map((entry) => (
          <JacketRow key={entry.one.pieceId} {...entry} />
        ))}
      </ol>
      {sealed.length > SHOWN ? (
        <Fold title={`${sealed.length - SHOWN} more`}>
          <ol start={SHOWN + 1}>
            {sealed.slice(SHOWN).map((entry) => (
              <JacketRow key={entry.one.pieceId} {...entry} />
            ))}
          </ol>
        </Fold>
      ) : null}
      <p className="pt-2 pb-6 text-small text-umber">
        Worth comes from dates, followers, purpose and open questions; hours are guesses until somebody has looked
        inside.
      </p>
    </Section>
  )
}

type Sealed = { readonly one: Jacket; readonly jacket: RecordOf<'jacket'> }

function JacketRow({ one, jacket }: Sealed) {
  return (
    <li className="flex items-center gap-3 border-b border-line py-2">
      <Stone seed={one.pieceId} stage="sealed" size={44} lengthM={jacket.lengthM} widthM={jacket.widthM} />
      <div className="min-w-0 flex-1">
        <Link href={`/sheet/${one.pieceId}`} className="underline-offset-4 hover:underline">
          <FieldNumber className="text-say">{jacket.fieldNumber}</FieldNumber>{' '}
          <span className="named">{jacket.contents}</span>
        </Link>
        <p className="text-small text-wash">
          <b>{verdicts[one.verdict]}</b> {sayWhen(one)} {sayHoursSpan(one.leftH.p10, one.leftH.p90)} of work.
        </p>
      </div>
    </li>
  )
}

const verdicts: Readonly<Record<Jacket['verdict'], string>> = {
  open: 'Open it.',
  later: 'Later: begun this season, seldom finished.',
  rest: 'Let it rest: its turn hardly comes.',
}

const sayWhen = ({ opensOn, chance }: Jacket): string =>
  opensOn === null ? '' : `Its turn comes about ${sayDate(opensOn, 'short')}, ${sayChance(chance)} to be finished.`
