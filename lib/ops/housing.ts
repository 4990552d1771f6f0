// What a specimen lies in for good, and what the racks bear that it stands on.
import { askedOfHousing, judgeRack } from '#lib/rules'
import { type Finding, finding, put, type Records, remove } from '#lib/words'
import { unanswered } from './materials.ts'
import { by, defineOp } from './op.ts'
import { isSameName, must, sheetForGate, unknown, unless } from './parts.ts'
import type { OpOf } from './shapes/index.ts'

function housed(records: Records, { housing, despite }: OpOf<'house'>) {
  const specimen = must(records.specimen.get(housing.pieceId), 'a specimen')
  const shelf = housing.shelf.trim() === '' ? specimen.shelf : housing.shelf
  return { ...specimen, shelf, housedKg: housing.massKg, standsDespite: despite }
}

export const house = defineOp<'house'>({
  kind: 'house',
  roles: by.staff,
  needs: (_records, { housing: { pieceId } }) => sheetForGate(pieceId),
  judge: (records, op) => {
    const { id, pieceId, massKg, bearsKg } = op.housing
    if (records.jacket.has(pieceId)) return [finding('O', 'hand-field-jacket', { piece: pieceId })]
    const specimen = records.specimen.get(pieceId)
    if (!specimen) return [unknown('piece', pieceId)]
    const aloneKg = specimen.mass.weighedKg ?? specimen.mass.lowKg
    return [
      ...unless(!records.housing.has(id), 'R6', 'only-added', { record: id }),
      ...unless(massKg + 1e-6 >= aloneKg, 'O', 'housed-lighter', { piece: pieceId }, { massKg, aloneKg }),
      ...unless(bearsKg + 1e-6 >= massKg, 'O', 'hand-housing-weak', { piece: pieceId }, { bearsKg, massKg }),
      ...unanswered(askedOfHousing(records, op.housing.materials), op.housing.despite),
      ...judgeRack(records, housed(records, op)),
    ]
  },
  apply: (records, op, who, when) => [
    put('housing', { ...op.housing, by: who.personId, at: when.at }),
    put('specimen', housed(records, op)),
  ],
})

export const setRack = defineOp<'setRack'>({
  kind: 'setRack',
  roles: by.staff,
  judge: (records, { rackId, name, ratedKg }): readonly Finding[] => {
    if (ratedKg === null) return records.rack.has(rackId) ? [] : [unknown('rack', rackId)]
    const twin = [...records.rack.values()].find((one) => one.id !== rackId && isSameName(one.name, name))
    return twin ? [finding('O', 'rack-name-taken', { rack: twin.name })] : []
  },
  apply: (_records, { rackId, name, ratedKg }) => [
    ratedKg === null ? remove('rack', rackId) : put('rack', { id: rackId, name: name.trim(), ratedKg }),
  ],
  inverse: (records, { rackId }, id) => {
    const old = records.rack.get(rackId)
    return { id, kind: 'setRack', rackId, name: old?.name ?? 'rack', ratedKg: old?.ratedKg ?? null }
  },
})
