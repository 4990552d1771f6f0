'use client'
// What to weigh before anything is weighed: how much is wanted, and what that comes to in the convention chosen.
import { type Amount, type Convention, makeSolution, type NoRecipe, thinSolution } from '#lib/limits'
import type { RecordOf, Records } from '#lib/words'
import { NumberField, Select } from '../_parts/controls/index.ts'
import { densitiesOf } from './densities.ts'

type Wish = {
  readonly materialId: string
  readonly solventId: string
  readonly amount: number | undefined
  readonly convention: Convention
  readonly wanted: number | undefined
  readonly by: string
}

type RecipeProps = {
  readonly records: Records
  readonly form: Wish
  readonly stock: RecordOf<'batch'> | undefined
  readonly set: (patch: { readonly wanted?: number | undefined; readonly by?: string }) => void
}

const measures = {
  volumeMl: { label: 'ml of finished solution', unit: 'ml' },
  solventMl: { label: 'ml of solvent', unit: 'ml' },
  solventG: { label: 'g of solvent', unit: 'g' },
} as const
type Measure = keyof typeof measures

/** How much a thinned batch is wanted in, by its convention. */
const thinUnits = {
  wv: ['Wanted in all', 'ml'],
  ww: ['Wanted in all', 'g'],
  per100ml: ['Solvent in all', 'ml'],
} as const

/** The wish and its recipe. */
export function Recipe({ records, form, stock, set }: RecipeProps) {
  const by: Measure = form.by === 'solventMl' || form.by === 'solventG' ? form.by : 'volumeMl'
  const thin = thinUnits[form.convention]
  return (
    <>
      <div className="grid gap-4 tablet:grid-cols-2">
        <NumberField
          label={stock ? thin[0] : 'How much'}
          unit={stock ? thin[1] : measures[by].unit}
          min={0}
          step="any"
          value={form.wanted}
          onValue={(wanted) => set({ wanted })}
        />
        {stock ? null : (
          <Select
            label="Measured in"
            value={by}
            onValue={(value) => set({ by: value })}
            choices={Object.entries(measures).map(([value, { label }]) => ({ value, label }))}
          />
        )}
      </div>
      <p className="border-l-[5px] border-ink py-1 pl-3 text-say" aria-live="polite">
        {stock ? sayThinning(records, form, stock) : sayRecipe(records, form, by)}
      </p>
    </>
  )
}

function sayRecipe(records: Records, form: Wish, by: Measure): string {
  if (!form.amount || !form.wanted) return 'Say how strong and how much, and what to weigh stands here.'
  const amount: Amount =
    by === 'volumeMl'
      ? { kind: by, volumeMl: form.wanted }
      : by === 'solventMl'
        ? { kind: by, solventMl: form.wanted }
        : { kind: by, solventG: form.wanted }
  const recipe = makeSolution(form.amount, form.convention, amount, densitiesOf(records, form))
  if (!('resinG' in recipe)) return sayNone(recipe)
  const name = records.material.get(form.materialId)?.name.toLowerCase() ?? 'resin'
  const solvent = records.material.get(form.solventId)?.name.toLowerCase() ?? 'solvent'
  const weigh = `Weigh ${sayG(recipe.resinG)} of ${name}`
  // Making up to a mark needs no densities, and no adding of volumes.
  if (form.convention === 'wv' && by === 'volumeMl')
    return `${weigh}; make up with ${solvent} to ${sayMl(form.wanted)}.`
  const pour = [
    recipe.solventMl === null ? '' : sayMl(recipe.solventMl),
    recipe.solventG === null ? '' : sayG(recipe.solventG),
  ].filter((one) => one !== '')
  const gives = recipe.volumeMl === null || by === 'volumeMl' ? '' : ` That gives about ${sayMl(recipe.volumeMl)}.`
  return `${weigh} and add ${pour.join(' or ')} of ${solvent}.${gives}`
}

function sayNone(none: NoRecipe): string {
  if ('tooStrong' in none) return 'There is no such solution: it would hold more than fits.'
  const part = none.needs === 'resin-density' ? 'the material' : 'the solvent'
  return `For this the density of ${part} is needed: write it into the list below, or measure the amount in another way.`
}

function sayThinning(records: Records, form: Wish, stock: RecordOf<'batch'>): string {
  const { strength } = stock
  if (!form.amount || !form.wanted || !strength) return 'Say how strong and how much, and what to take stands here.'
  if (form.amount >= strength.amount) return `It is only ${strength.amount} itself.`
  const parts = thinSolution(strength.amount, form.amount, form.convention, form.wanted, densitiesOf(records, form))
  const stockOf = [
    parts.stockMl === null ? '' : sayMl(parts.stockMl),
    parts.stockG === null ? '' : sayG(parts.stockG),
  ].filter((one) => one !== '')
  if (stockOf.length === 0) return sayNone({ needs: 'solvent-density' })
  const solvent = [
    parts.solventMl === null ? '' : sayMl(parts.solventMl),
    parts.solventG === null ? '' : sayG(parts.solventG),
  ].filter((one) => one !== '')
  return `Take ${stockOf.join(' or ')} of it and add ${solvent.join(' or ')} of solvent.`
}

const three = (value: number): string => String(Number(value.toPrecision(4)))
const sayG = (value: number): string => `${three(value)} g`
const sayMl = (value: number): string => `${three(value)} ml`
