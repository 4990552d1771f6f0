'use client'
// Length, width, height and the estimated mass of a piece; a weighing stands beside the estimate and is kept with it.
import type { RecordOf } from '#lib/words'
import { NumberField } from '../_parts/controls/index.ts'

type Sized = Pick<RecordOf<'jacket'>, 'lengthM' | 'widthM' | 'heightM' | 'mass'>

export type SizeFieldsProps = {
  readonly piece: Sized
  readonly onSize: (patch: Partial<Sized>) => void
}

/** Three lengths and a range of mass. */
export function SizeFields({ piece, onSize }: SizeFieldsProps) {
  const { mass } = piece
  const metres = (label: string, key: 'lengthM' | 'widthM' | 'heightM') => (
    <NumberField
      label={label}
      unit="m"
      min={0}
      max={100}
      step={0.01}
      value={piece[key]}
      onValue={(value) => onSize({ [key]: value ?? 0 })}
    />
  )
  return (
    <>
      <div className="grid grid-cols-3 gap-3">
        {metres('Length', 'lengthM')}
        {metres('Width', 'widthM')}
        {metres('Height', 'heightM')}
      </div>
      <div className="grid grid-cols-2 gap-3">
        <NumberField
          label="Mass, from"
          unit="kg"
          min={0}
          step={0.1}
          value={mass.lowKg}
          onValue={(value) => onSize({ mass: { ...mass, lowKg: value ?? 0 } })}
        />
        <NumberField
          label="Mass, to"
          unit="kg"
          min={0}
          step={0.1}
          value={mass.highKg}
          onValue={(value) => onSize({ mass: { ...mass, highKg: value ?? 0 } })}
        />
      </div>
    </>
  )
}
