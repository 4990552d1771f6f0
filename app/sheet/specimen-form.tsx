'use client'
// A specimen made from an opened jacket: what one sees decides its number, its name and how gently it is begun.
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import type { PieceId, RecordOf, TechniqueId } from '#lib/words'
import { useNewId } from '../_board/index.ts'
import { ActForm, Select, TextField } from '../_parts/controls/index.ts'
import { useTry } from '../_shell/use-try.ts'
import { nameRating, type RatingName, sayPurpose, sayRating } from '../_text/index.ts'
import { ladderOf, type SheetAt } from './sheet-at.ts'
import { SizeFields } from './size-fields.tsx'

export type SpecimenFromJacketProps = {
  readonly at: SheetAt
  readonly jacket: RecordOf<'jacket'>
  readonly onDone: () => void
}

const asked: readonly Exclude<RatingName, 'rockHardness'>[] = ['contrast', 'soundness', 'breakage']
const purposes = ['research', 'exhibit', 'both'] as const

/** The form; leads to the new Sheet. */
export function SpecimenFromJacket({ at, jacket, onDone }: SpecimenFromJacketProps) {
  const newId = useNewId()
  const router = useRouter()
  const { attempt, problem } = useTry()
  const ladder = ladderOf(at)
  const [number, setNumber] = useState(at.sheet.specimens.length === 0 ? jacket.fieldNumber : '')
  const [name, setName] = useState(jacket.contents)
  const [purpose, setPurpose] = useState<(typeof purposes)[number]>('research')
  // The gentlest is the beginning; who has seen the rock raises it.
  const [ceiling, setCeiling] = useState<string>(ladder[0]?.id ?? '')
  const [ratings, setRatings] = useState<Readonly<Record<RatingName, number | undefined>>>({
    rockHardness: jacket.rockHardness,
    contrast: undefined,
    soundness: undefined,
    breakage: undefined,
  })
  const [size, setSize] = useState({
    lengthM: jacket.lengthM,
    widthM: jacket.widthM,
    heightM: jacket.heightM,
    mass: { ...jacket.mass, weighedKg: null },
  })
  const { rockHardness, contrast, soundness, breakage } = ratings
  const isRated =
    rockHardness !== undefined && contrast !== undefined && soundness !== undefined && breakage !== undefined
  const make = () => {
    if (!isRated) return
    const id = newId() as PieceId
    const done = attempt({
      kind: 'addSpecimen',
      specimen: {
        ...size,
        id,
        shelf: jacket.shelf,
        ...(jacket.sampling && { sampling: jacket.sampling }),
        ...(jacket.standsDespite ? { standsDespite: jacket.standsDespite } : {}),
        placeId: null,
        isTied: false,
        note: '',
        number: number.trim(),
        catalogueNumber: '',
        name: name.trim(),
        jacketId: jacket.id,
        locality: jacket.locality,
        horizon: jacket.horizon,
        stage: 'opened',
        stageSince: at.today,
        forceCeiling: ceiling as TechniqueId,
        ratings: { rockHardness, contrast, soundness, breakage, toExposeCm2: 0, on: at.today, by: at.me },
        purpose,
        side: '',
        stopLine: '',
        fragile: '',
        isPriority: false,
      },
      steps: [],
    })
    if (!done) return
    onDone()
    router.push(`/sheet/${id}`)
  }
  return (
    <ActForm
      act="Make the specimen"
      problem={problem}
      isOff={!isRated || number.trim() === '' || name.trim() === '' || ceiling === ''}
      onAct={make}
    >
      <div className="grid gap-4 tablet:grid-cols-2">
        <TextField label="Number" isInked value={number} onChange={(event) => setNumber(event.target.value)} />
        <TextField label="Name" value={name} onChange={(event) => setName(event.target.value)} />
      </div>
      {(['rockHardness', ...asked] as const).map((rating) => (
        <Select
          key={rating}
          label={nameRating(rating)}
          value={ratings[rating] === undefined ? '' : String(ratings[rating])}
          onValue={(value) => setRatings({ ...ratings, [rating]: value === '' ? undefined : Number(value) })}
          choices={[
            { value: '', label: 'as seen now' },
            ...[1, 2, 3, 4, 5].map((value) => ({
              value: String(value),
              label: `${value} ${sayRating(rating, value)}`,
            })),
          ]}
        />
      ))}
      <Select
        label="No stronger than"
        value={ceiling}
        onValue={setCeiling}
        hint="Begin gently; it can be raised with a reason."
        choices={ladder.map((one) => ({ value: one.id as string, label: one.name }))}
      />
      <Select
        label="Prepared"
        value={purpose}
        onValue={(value) => setPurpose(purposes.find((one) => one === value) ?? 'research')}
        choices={purposes.map((one) => ({ value: one, label: sayPurpose(one) }))}
      />
      <SizeFields
        piece={size}
        onSize={(patch) => setSize({ ...size, ...patch, mass: { ...size.mass, ...patch.mass, weighedKg: null } })}
      />
    </ActForm>
  )
}
