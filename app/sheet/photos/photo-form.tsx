'use client'
// What is said of a photograph: from where, with which scale bar, what it shows. The rest is filled in and folded away.
import { photoViews } from '#lib/words'
import type { PhotoSaid } from '../../_board/index.ts'
import { Fold, NumberField, Select, TextField } from '../../_parts/controls/index.ts'
import { sayViewHead } from '../../_text/index.ts'

/** As typed; a bar that is not given is undefined, so that the form can be kept. */
export type PhotoFields = Pick<PhotoSaid, 'view' | 'caption' | 'owner' | 'licence'> & {
  readonly scaleBarMm: number | undefined
}

export const blankPhoto: PhotoFields = { view: 'whole', scaleBarMm: undefined, caption: '', owner: '', licence: '' }

/** The scale bar as the record takes it, or why not. */
export const scaleProblem = (mm: number | undefined): string | undefined =>
  mm === undefined || (mm > 0 && mm <= 5000) ? undefined : 'More than 0, at most 5 000 mm.'

type PhotoFormProps = { readonly said: PhotoFields; readonly set: (patch: Partial<PhotoFields>) => void }

/** The fields. */
export function PhotoForm({ said, set }: PhotoFormProps) {
  const isOthers = said.owner !== '' || said.licence !== ''
  return (
    <>
      <div className="grid grid-cols-2 gap-3">
        <Select
          label="View"
          value={said.view}
          choices={photoViews.map((view) => ({ value: view, label: sayViewHead(view) }))}
          onValue={(value) => set({ view: photoViews.find((view) => view === value) ?? 'whole' })}
        />
        <NumberField
          label="Scale bar in it"
          unit="mm"
          min={0}
          hint="Empty if there is none."
          value={said.scaleBarMm}
          onValue={(scaleBarMm) => set({ scaleBarMm })}
          problem={scaleProblem(said.scaleBarMm)}
        />
      </div>
      <TextField
        label="What it shows"
        maxLength={240}
        value={said.caption}
        onChange={(event) => set({ caption: event.target.value })}
      />
      <Fold title="Whose picture, and on what terms" isOpen={isOthers}>
        <div className="grid grid-cols-2 gap-3 pt-2">
          <TextField
            label="Owner"
            maxLength={240}
            hint="Empty: the lab."
            value={said.owner}
            onChange={(event) => set({ owner: event.target.value })}
          />
          <TextField
            label="Licence"
            maxLength={240}
            hint="Empty: not given out."
            value={said.licence}
            onChange={(event) => set({ licence: event.target.value })}
          />
        </div>
      </Fold>
    </>
  )
}
