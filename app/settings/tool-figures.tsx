'use client'
// The figures of a technique's tool, each with where it is from: declared or measured, by whom, when. Samples of a survey are
// kept as they were read off, so that the level can be taken from them anew.
import { useEffect, useState } from 'react'
import { noiseByTasks } from '#lib/limits'
import type { RecordOf } from '#lib/words'
import { Button, NumberField, Select } from '../_parts/controls/index.ts'
import { sayNoise } from '../_text/index.ts'
import { KeptNumber, KeptText } from '../room/kept-field.tsx'

type Technique = RecordOf<'lab'>['techniques'][number]
type FiguresProps = {
  readonly technique: Technique
  readonly onEdit: (patch: Partial<Technique>) => string | undefined
}

/** Air, running share, vibration and noise. */
export function ToolFigures({ technique, onEdit }: FiguresProps) {
  return (
    <>
      <div className="grid gap-3 tablet:grid-cols-2">
        <KeptNumber
          label="Air while it runs"
          unit="L/min"
          step={5}
          value={technique.airLpm}
          onKeep={(airLpm) => onEdit({ airLpm })}
        />
        <KeptNumber
          label="Tool runs in the hand"
          unit="% of bench time"
          step={5}
          max={100}
          value={technique.runningPct}
          onKeep={(runningPct) => onEdit({ runningPct })}
        />
      </div>
      <fieldset>
        <legend className="text-small font-firm text-umber">Vibration</legend>
        <div className="grid gap-3 tablet:grid-cols-2">
          <Measured
            label="Vibration total value"
            unit="m/s²"
            max={100}
            value={technique.vibrationMs2}
            onKeep={(vibrationMs2) => onEdit({ vibrationMs2 })}
          />
          <Measured
            label="Its uncertainty K"
            unit="m/s²"
            max={100}
            hint="As it was told with the figure."
            value={technique.vibrationKMs2 ?? null}
            onKeep={(value) => onEdit({ vibrationKMs2: value ?? undefined })}
          />
          <Basis
            label="The vibration figure was"
            value={technique.vibrationBasis}
            onValue={(vibrationBasis) => onEdit({ vibrationBasis })}
          />
          <KeptText
            label="Declared or measured on"
            type="date"
            value={technique.vibrationOn ?? ''}
            onKeep={(on) => onEdit({ vibrationOn: on === '' ? undefined : on })}
          />
          <KeptText
            label="Where the vibration figure is from"
            value={technique.vibrationSource}
            onKeep={(vibrationSource) => onEdit({ vibrationSource })}
          />
        </div>
      </fieldset>
      <fieldset>
        <legend className="text-small font-firm text-umber">Noise</legend>
        <div className="grid gap-3 tablet:grid-cols-2">
          <Measured
            label="Sound level at the ear"
            unit="dB(A)"
            max={150}
            value={technique.noiseDba}
            onKeep={(noiseDba) => onEdit({ noiseDba })}
          />
          <Basis
            label="The sound figure was"
            value={technique.noiseBasis}
            onValue={(noiseBasis) => onEdit({ noiseBasis })}
          />
          <Samples technique={technique} onEdit={onEdit} />
          <KeptText
            label="Sound declared or measured on"
            type="date"
            value={technique.noiseOn ?? ''}
            onKeep={(on) => onEdit({ noiseOn: on === '' ? undefined : on })}
          />
          <KeptText
            label="Where the sound figure is from"
            hint="Instrument, station, who measured."
            value={technique.noiseSource}
            onKeep={(noiseSource) => onEdit({ noiseSource })}
          />
        </div>
      </fieldset>
    </>
  )
}

const SAMPLES_MAX = 30

/** Levels as they were read off, and what they come to by energy. */
function Samples({ technique, onEdit }: FiguresProps) {
  const samples = technique.noiseSamplesDba ?? []
  const survey = samples.length === 0 ? null : noiseByTasks([{ samplesDba: samples, minutes: 480 }])
  const mean = survey?.taskDba[0]
  const levelDba = mean === undefined ? null : Math.round(mean * 10) / 10
  const keep = (text: string) => {
    const read = text.split(/[;\s]+|,\s+/).filter((one) => one !== '')
    const levels = read.map((one) => Number(one.replace(',', '.')))
    if (levels.length > SAMPLES_MAX || levels.some((one) => !(one >= 0 && one <= 150)))
      return `Not kept: up to ${SAMPLES_MAX} levels between 0 and 150, with a space between.`
    return onEdit({ noiseSamplesDba: levels.length === 0 ? undefined : levels })
  }
  return (
    <div className="flex flex-col gap-2">
      <KeptText
        label="Samples at the ear while it runs, dB(A)"
        hint="Such as 86.5 92.4 89.3; three or more tell how far the level may be off (ISO 9612)."
        value={samples.join(' ')}
        onKeep={keep}
      />
      {survey === null || levelDba === null ? null : (
        <p className="text-small">
          {sayNoise(levelDba)} by energy, 10·lg(Σ 10^(L/10) / n), ISO 9612:2009, equation 7.
          {survey.needsMore[0] ? ' They lie 3 dB or more apart: take more of them (clause 9.3).' : ''}
        </p>
      )}
      {levelDba === null || technique.noiseDba === levelDba ? null : (
        <Button className="self-start" onClick={() => onEdit({ noiseDba: levelDba })}>
          Take {sayNoise(levelDba)} as the level
        </Button>
      )}
    </div>
  )
}

type BasisProps = {
  readonly label: string
  readonly value: 'declared' | 'measured' | undefined
  readonly onValue: (value: 'declared' | 'measured' | undefined) => void
}

function Basis({ label, value, onValue }: BasisProps) {
  return (
    <Select
      label={label}
      value={value ?? ''}
      choices={[
        { value: '', label: 'not said' },
        { value: 'declared', label: 'declared by the maker' },
        { value: 'measured', label: 'measured in use' },
      ]}
      hint="A declared figure may understate real use."
      onValue={(told) => onValue((['declared', 'measured'] as const).find((one) => one === told))}
    />
  )
}

const UNKNOWN = 'Leave it empty while nobody has measured or declared it.'

type MeasuredProps = {
  readonly label: string
  readonly unit: string
  readonly max: number
  readonly step?: number
  readonly hint?: string
  readonly value: number | null
  readonly onKeep: (value: number | null) => string | undefined
}

/** A figure that may be unknown; an empty field is unknown, never nought. */
export function Measured({ label, unit, max, step = 0.1, hint = UNKNOWN, value, onKeep }: MeasuredProps) {
  const [typed, setTyped] = useState<number | undefined>(value ?? undefined)
  const [problem, setProblem] = useState<string>()
  // Changed elsewhere, or taken from samples: leaving the field must not bring the old figure back.
  useEffect(() => setTyped(value ?? undefined), [value])
  const keep = () => {
    if ((typed ?? null) !== value) setProblem(onKeep(typed ?? null))
  }
  return (
    <NumberField
      label={label}
      unit={unit}
      min={0}
      max={max}
      step={step}
      hint={hint}
      value={typed}
      problem={problem}
      onValue={setTyped}
      onBlur={keep}
      onKeyDown={(event) => {
        if (event.key === 'Enter') keep()
      }}
    />
  )
}
