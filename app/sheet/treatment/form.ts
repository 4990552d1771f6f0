// The form of an entry as it is typed and as it is kept on the device: plain strings, so that half a number survives too.
import { askedOfUse } from '#lib/rules'
import type { Finding, RecordOf, Records, Treatment } from '#lib/words'
import { PersonId, Treatment as TreatmentSchema } from '#lib/words'
import { fitting, keptFields } from '../../_shell/kept-fields.ts'
import { writableKinds } from '../words.ts'

const blank = {
  text: '',
  techniqueId: '',
  tool: '',
  setting: '',
  area: '',
  material: '',
  batch: '',
  batchId: '',
  despite: '',
  amount: '',
  convention: 'wv',
  moved: '',
  agreed: '',
}

export type Form = { readonly [K in keyof typeof blank]: string } & { readonly kind: RecordOf<'entry'>['kind'] }

/** What was kept, read back; what cannot be read begins anew. `begin` are the words of an untouched form. */
export function formOf(kept: string, begin: string): Form {
  const told = keptFields(kept)
  const kind = writableKinds.find((one) => one === told.kind) ?? 'note'
  return { ...fitting({ ...blank, text: begin }, told), kind }
}

/** The form as it is kept; nothing where nothing was typed. */
export function keepsOf(form: Form): string {
  const { kind, convention: _, ...texts } = form
  return kind === 'note' && Object.values(texts).every((one) => one === '') ? '' : JSON.stringify(form)
}

/** Kinds of entry that put something on the piece. */
export const withJar: readonly Form['kind'][] = ['treatment', 'consolidant', 'adhesive', 'gap filler', 'repair']

/** The batch the form names, where its kind puts one on. */
export const batchOf = ({ kind, batchId }: Form): string | undefined =>
  withJar.includes(kind) && batchId !== '' ? batchId : undefined

/** What is asked about before it is written. */
export function askedOf(records: Records, pieceId: string, form: Form, today: string): readonly Finding[] {
  const isSoakedIn = form.kind === 'consolidant'
  return askedOfUse(records, { pieceId, batchId: batchOf(form), isSoakedIn, on: today })
}

/** What is said beside the words: undefined for nothing, `wrong` where a figure or a line is not one. */
export function detailOf(form: Form): Omit<Treatment, 'jar' | 'despite'> | undefined | 'wrong' {
  const line = (key: 'tool' | 'setting' | 'area' | 'material' | 'batch') =>
    form[key].trim() === '' ? {} : { [key]: form[key].trim() }
  // A batch of the lab says itself what it is.
  const isBatch = batchOf(form) !== undefined
  const told = {
    ...line('tool'),
    ...line('setting'),
    ...line('area'),
    ...(isBatch ? {} : { ...line('material'), ...line('batch') }),
    ...(form.amount === '' || isBatch
      ? {}
      : { strength: { amount: Number(form.amount), convention: form.convention } }),
    ...(form.moved === '' || form.techniqueId === '' ? {} : { movedRock: form.moved === 'yes' }),
    ...(form.agreed === '' || form.kind !== 'decision' ? {} : { agreed: [PersonId.parse(form.agreed)] }),
  }
  if (Object.keys(told).length === 0) return undefined
  return TreatmentSchema.safeParse(told).data ?? 'wrong'
}
