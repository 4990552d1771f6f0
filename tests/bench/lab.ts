// The lab the benches edit: a crew and jackets, a thousand records together, each of a usual size.
import { type Change, put } from '#lib/words'
import { aJacket, aLab, aPerson } from '../kit/makers.ts'

export const PEOPLE = 20

export function benchChanges(records = 1000): readonly Change[] {
  return [
    put('lab', aLab()),
    ...Array.from({ length: PEOPLE }, (_, i) => put('person', aPerson({ id: `p${i}`, role: 'preparator' }))),
    ...jacketIds(records).map((id) =>
      put(
        'jacket',
        aJacket({
          id,
          fieldNumber: `TL-${id}`,
          contents: 'vertebrae and ribs',
          locality: 'north face of the upper quarry',
          horizon: 'lower marl',
          note: 'lies on its left side',
        }),
      ),
    ),
  ]
}

export const jacketIds = (records = 1000): readonly string[] =>
  Array.from({ length: records - PEOPLE - 1 }, (_, i) => `j${i}`)
