// One case for each act around what the work does to the people.
import { type Change, kinds, put } from '#lib/words'
import { NOW, TODAY } from '../../kit/makers.ts'
import type { Case } from './case-parts.ts'

export const aCheck = {
  id: 'arm',
  name: 'Extraction arm at b1',
  what: 'extraction',
  placeId: 'b1',
  every: { unit: 'days', count: 1 },
  ratedKg: null,
  since: TODAY,
  isActive: true,
}
const checked: Change = put('check', kinds.check.parse({ ...aCheck, last: null }))
const incident = {
  id: 'i1',
  kind: 'near miss',
  date: TODAY,
  what: 'A sling slipped.',
  done: '',
  personId: null,
  placeId: 'b1',
  pieceId: null,
  corrects: null,
}
const sample = {
  id: 's1',
  personId: 'ana',
  date: TODAY,
  agent: 'respirable crystalline silica',
  amount: 30,
  unit: 'µg/m³',
  minutes: 240,
  method: '',
  corrects: null,
}
const told = (id: string, corrects: string | null = null): Change =>
  put('incident', kinds.incident.parse({ ...incident, id, corrects, by: 'ana', at: NOW }))

export const safetyCases = {
  setCheck: {
    who: 'mira',
    isOwn: true,
    good: { check: aCheck },
    bad: [['O unknown-place', { check: { ...aCheck, placeId: 'none' } }]],
  },
  doCheck: {
    who: 'ana',
    lab: [checked],
    good: { doneId: 'd1', checkId: 'arm', shiftId: 'morning', result: 'good', note: '' },
    bad: [['O unknown-check', { doneId: 'd1', checkId: 'none', shiftId: null, result: 'good', note: '' }]],
  },
  reportIncident: {
    who: 'ana',
    good: { incident },
    bad: [
      ['O empty-text', { incident: { ...incident, what: ' ' } }],
      ['R6 only-added', { incident }, [told('i1')]],
      ['R6 corrected', { incident: { ...incident, id: 'i3', corrects: 'i1' } }, [told('i1'), told('i2', 'i1')]],
    ],
  },
  addSample: {
    who: 'mira',
    isOwn: true,
    good: { sample },
    bad: [['O unknown-person', { sample: { ...sample, personId: 'nobody' } }]],
  },
  acknowledge: { who: 'ana', good: { seen: [{ key: 'technique.scribe', version: 'v1' }] }, bad: [] },
} satisfies Record<string, Case>
