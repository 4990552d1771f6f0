// The form of an entry as kept on the device, and how its particulars are read.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { Treatment } from '#lib/words'
import { detailOf, formOf, keepsOf } from '../../../app/sheet/treatment/form.ts'
import { sayDetail } from '../../../app/sheet/treatment/say.ts'

const form = formOf('', '')

test('O whatever lies in the device’s store, the form opens and never says what the door refuses', () => {
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string(),
        fc.json(),
        fc.json().map((text) => `{"amount":${text},"kind":"sample"}`),
      ),
      (kept) => {
        const detail = detailOf(formOf(kept, ''))
        if (detail !== undefined && detail !== 'wrong') expect(Treatment.safeParse(detail).success).toBe(true)
      },
    ),
  )
})

test('O half an entry is given back as it was, and an untouched one is not kept', () => {
  const half = { ...form, kind: 'consolidant' as const, text: 'pal', amount: '5.' }
  expect(formOf(keepsOf(half), 'other words')).toEqual(half)
  expect(keepsOf(form)).toBe('')
})

test('O figures that are none are called wrong, not taken as something', () => {
  expect(detailOf({ ...form, amount: 'five' })).toBe('wrong')
  expect(detailOf({ ...form, amount: '-5' })).toBe('wrong')
  expect(detailOf(form)).toBeUndefined()
})

test('O particulars are one line, the strength with what it counts', () => {
  const detail = detailOf({ ...form, kind: 'decision', material: 'B-72', batch: 'B12', amount: '5', agreed: 'pia' })
  expect(detail === undefined || detail === 'wrong' ? detail : sayDetail(detail, () => 'Pia')).toBe(
    'B-72, batch B12, 5 % w/v of finished solution, agreed by Pia.',
  )
})
