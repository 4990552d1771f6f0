'use client'
// Opening a jacket with its usual cautions, calling it empty, laying a piece to rest.
import { useState } from 'react'
import type { RecordOf } from '#lib/words'
import { ActForm, Check, Notice } from '../_parts/controls/index.ts'
import { Mark } from '../_parts/marks/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { fieldHazards } from '../mine/cautions.ts'
import type { SheetAt } from './sheet-at.ts'
import { SpecimenFromJacket } from './specimen-form.tsx'

type FormProps = { readonly at: SheetAt; readonly onDone: () => void }

/** Opening it, and once it is opened the offer to make a specimen from it. */
export function OpenForm({ at, jacket, onDone }: FormProps & { readonly jacket: RecordOf<'jacket'> }) {
  const { attempt, problem } = useTry()
  const [hasAsked, setAsked] = useState(false)
  const [wasSealed] = useState(jacket.state === 'sealed')
  if (jacket.state !== 'sealed')
    return (
      <div className="flex flex-col gap-4">
        {wasSealed ? (
          <Notice kind="plain" mark="openjacket">
            <b>{at.sheet.number} is opened.</b> Name what is in it, and it becomes a specimen of its own. It can be done
            later as well.
          </Notice>
        ) : null}
        <SpecimenFromJacket at={at} jacket={jacket} onDone={onDone} />
      </div>
    )
  const contact = at.records.lab.get('lab')?.safetyContact ?? ''
  const isHazardous = jacket.hazards.length > 0
  return (
    <ActForm
      act="It is opened"
      problem={problem}
      isOff={isHazardous && !hasAsked}
      onAct={() => {
        attempt({ kind: 'openJacket', pieceId: jacket.id })
      }}
    >
      {isHazardous ? (
        <ul className="border-l-[5px] border-ink pl-3">
          {jacket.hazards.map((hazard) => (
            <li key={hazard} className="flex items-start gap-2.5 py-1">
              <Mark name="caution" size={22} />
              {fieldHazards[hazard]}
            </li>
          ))}
        </ul>
      ) : (
        <p>
          No hazard is noted for it. Plaster dust comes off at the saw: extraction on, mask as the lab has fitted it.
        </p>
      )}
      <p className="text-small text-umber">
        {contact === '' ? '' : `${contact}. `}Local codes and the site’s safety officer decide.
      </p>
      {isHazardous ? <Check label="The safety officer was asked" isOn={hasAsked} onToggle={setAsked} /> : null}
    </ActForm>
  )
}

/** Nothing is left in it. */
export function EmptyForm({ at, onDone }: FormProps) {
  const { attempt, problem } = useTry()
  return (
    <ActForm
      act="It is empty"
      problem={problem}
      onAct={() => {
        if (attempt({ kind: 'emptyJacket', pieceId: at.sheet.id })) onDone()
      }}
    >
      <p>Everything is taken out of it. What came from it keeps its link to this number.</p>
    </ActForm>
  )
}

/** Off the board, into the archive, whole. */
export function RestForm({ at, onDone }: FormProps) {
  const { attempt, problem } = useTry()
  return (
    <ActForm
      act="Lay it to rest"
      problem={problem}
      onAct={() => {
        if (attempt({ kind: 'rest', pieceId: at.sheet.id })) onDone()
      }}
    >
      <p>
        It leaves the board with its steps, dates and questions, and rests in the archive. It is found there by its
        number and words, can be read, and can be brought back.
      </p>
    </ActForm>
  )
}
