'use client'
// What would help a date, found by playing the season again with each remedy in the same futures: what it gains, what
// it costs others. Best first; comes in while it is being tried.
import type { HelpsAnswer, SeasonRefused } from '#lib/season'
import { isTold } from '#lib/views'
import type { Records } from '#lib/words'
import { useAsk } from '../_board/index.ts'
import { Button, Live } from '../_parts/controls/index.ts'
import { sayGain, sayOthers, sayRefused, sayRemedy } from '../season/say.ts'

/** The list. */
export function Helps({ dueId, number, records }: HelpsProps) {
  const { answer, state, stop, again } = useAsk<HelpsAnswer | SeasonRefused>('helps', { dueId })
  if (answer !== null && 'refused' in answer) return <p className="py-2 text-umber">{sayRefused[answer.refused]}</p>
  const helps = answer?.helps.filter(isTold) ?? []
  const isTrying = state === 'asking'
  return (
    <div className="pt-1 pb-2">
      <p className="flex min-h-11 flex-wrap items-center gap-x-4 text-small text-umber">
        {answer === null
          ? 'Playing the season.'
          : isTrying
            ? `Tried ${answer.tried} of ${answer.remedies} so far.`
            : `Tried ${answer.tried} of ${answer.remedies}, each in the same ${answer.futures} futures.`}
        {isTrying ? <Button onClick={stop}>Stop</Button> : null}
        {state === 'stopped' ? <Button onClick={again}>Go on</Button> : null}
      </p>
      <Live message={state === 'done' ? `${helps.length} things would help ${number}.` : ''} />
      {helps.length === 0 && state === 'done' ? (
        <p className="named text-say">Nothing that was tried helps by more than chance. A later date would.</p>
      ) : null}
      <ol aria-label={`What would help ${number}, best first`}>
        {helps.slice(0, 6).map((help) => (
          <li key={JSON.stringify(help.remedy)} className="border-t border-line py-2">
            <p className="named text-say">{sayRemedy(help, records)}.</p>
            <p className="text-small text-wash">
              <b>{sayGain(answer?.chance ?? 0, help.chance)}</b>, {Math.round(help.gain * 100)} in a hundred more.{' '}
              {sayOthers(help.others, records)}
            </p>
          </li>
        ))}
      </ol>
    </div>
  )
}

type HelpsProps = { readonly dueId: string; readonly number: string; readonly records: Records }
