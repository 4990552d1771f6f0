// The form of an entry as it is typed and as it is kept on the device: plain strings, so that half a number survives too.
import type { RecordOf, Treatment } from '#lib/words'
import { PersonId, Treatment as TreatmentSchema } from '#lib/words'
import { writableKinds } from '../words.ts'

const blank = {
  text: '',
  techniqueId: '',
  tool: '',
  setting: '',
  area: '',
  running: '',
  material: '',
  batch: '',
  amount: '',
  convention: 'wv',
  moved: '',
  agreed: '',
}

export type Form = { readonly [K in keyof typeof blank]: string } & { readonly kind: RecordOf<'entry'>['kind'] }

/** What was kept, read back; what cannot be read begins anew. `begin` are the words of an untouched form. */
export function formOf(kept: string, begin: string): Form {
  const form: Form = { ...blank, text: begin, kind: 'note' }
  if (kept === '') return form
  try {
    const told: unknown = JSON.parse(kept)
    if (typeof told !== 'object' || told === null) return form
    const texts = Object.keys(blank).flatMap((key) => {
      const value: unknown = Reflect.get(told, key)
      return typeof value === 'string' ? [[key, value] as const] : []
    })
    const kind = writableKinds.find((one) => one === Reflect.get(told, 'kind')) ?? 'note'
    return { ...form, ...Object.fromEntries(texts), kind }
  } catch {
    return form
  }
}

/** The form as it is kept; nothing where nothing was typed. */
export function keepsOf(form: Form): string {
  const { kind, convention: _, ...texts } = form
  return kind === 'note' && Object.values(texts).every((one) => one === '') ? '' : JSON.stringify(form)
}

/** What is said beside the words: undefined for nothing, `wrong` where a figure or a line is not one. */
export function detailOf(form: Form): Treatment | undefined | 'wrong' {
  const line = (key: 'tool' | 'setting' | 'area' | 'material' | 'batch') =>
    form[key].trim() === '' ? {} : { [key]: form[key].trim() }
  const told = {
    ...line('tool'),
    ...line('setting'),
    ...line('area'),
    ...line('material'),
    ...line('batch'),
    ...(form.running === '' ? {} : { runningMinutes: Number(form.running) }),
    ...(form.amount === '' ? {} : { strength: { amount: Number(form.amount), convention: form.convention } }),
    ...(form.moved === '' || form.techniqueId === '' ? {} : { movedRock: form.moved === 'yes' }),
    ...(form.agreed === '' || form.kind !== 'decision' ? {} : { agreed: [PersonId.parse(form.agreed)] }),
  }
  if (Object.keys(told).length === 0) return undefined
  return TreatmentSchema.safeParse(told).data ?? 'wrong'
}
