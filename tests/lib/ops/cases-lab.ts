// One case for each act on lab, places and people: who may, what is good, what is refused and with which code.
import { put } from '#lib/words'
import { aHold, aPerson, aPlace, aRoom, aTurn, skilled, TODAY, TOMORROW } from '../../kit/makers.ts'
import { asked, type Case, lying, seated } from './case-parts.ts'

const item = (id: string) => ({ id, name: id, isRequired: true, from: TODAY })

export const labCases = {
  setLab: {
    who: 'mira',
    good: { patch: { name: 'Another name' } },
    bad: [
      ['O technique-in-use', { patch: { techniques: [] } }],
      [
        'O air-limit-twice',
        {
          patch: {
            airLimits: ['a', 'b'].map((id) => ({
              ...{ id, agent: 'acetone', kind: 'limit', amount: 1, unit: 'ppm', title: '' },
              ...{ setBy: 'mira', setOn: TODAY },
            })),
          },
        },
      ],
      ['O path-leads-nowhere', { patch: { paths: [{ id: 'p', name: 'p', steps: [{ kind: 'item', itemId: 'x' }] }] } }],
      ['O id-taken', { patch: { induction: [item('exits'), item('exits')] } }],
      // A turn that stands is not made unlawful by an item that its person has not been through.
      ['O not-inducted', { patch: { induction: [item('exits')] } }, [seated]],
      ['O unknown-shift', { patch: { shifts: [] } }, [seated]],
      [
        'R4 air-short',
        { patch: { compressor: { deliveryLpm: 10, dutyPct: 100 } } },
        [put('assignment', aTurn({ personId: 'ben', pieceId: 'rib' }))],
      ],
    ],
  },
  setRoom: {
    who: 'mira',
    good: { room: aRoom({ widthM: 12 }) },
    bad: [['O room-empty', { room: aRoom({ depthM: 0 }) }]],
  },
  addPlace: {
    who: 'mira',
    good: { place: aPlace({ id: 'new', code: 'N1' }) },
    bad: [
      ['O code-taken', { place: aPlace({ id: 'new', code: 'B1' }) }],
      ['O id-taken', { place: aPlace({ id: 'b1', code: 'N1' }) }],
    ],
  },
  editPlace: {
    who: 'mira',
    good: { placeId: 'b1', patch: { xM: 3 } },
    bad: [
      ['O unknown-place', { placeId: 'none', patch: {} }],
      ['R1 seat-taken', { placeId: 'b1', patch: { seats: 0 } }, [seated]],
    ],
  },
  removePlace: {
    who: 'mira',
    good: { placeId: 'b1' },
    bad: [
      ['O place-in-use', { placeId: 'b1' }, [seated]],
      ['O place-in-use', { placeId: 'b1' }, [put('hold', aHold())]],
      ['O piece-lies-here', { placeId: 'b1' }, [lying]],
    ],
  },
  closePlace: {
    who: 'mira',
    good: { placeId: 'b1', until: TOMORROW, reason: 'lamp broken' },
    bad: [['O past', { placeId: 'b1', until: TODAY, reason: '' }]],
  },
  addPerson: {
    who: 'mira',
    good: { person: aPerson({ id: 'new' }) },
    bad: [
      ['O name-taken', { person: aPerson({ id: 'new', name: 'Ana' }) }],
      ['O id-taken', { person: aPerson({ id: 'ana', name: 'x' }) }],
      ['O unknown-technique', { person: aPerson({ id: 'new', skills: skilled({ magic: 2 }) }) }],
    ],
  },
  editPerson: {
    who: 'mira',
    isOwn: true,
    good: { personId: 'ana', patch: { name: 'Anna', role: 'preparator' } },
    bad: [
      ['O last-manager', { personId: 'mira', patch: { isActive: false } }],
      ['O last-manager', { personId: 'mira', patch: { role: 'preparator' } }],
      ['O name-taken', { personId: 'ana', patch: { name: 'BEN' } }],
      ['O not-crew', { personId: 'ana', patch: { isActive: false } }, [seated]],
    ],
  },
  setPattern: {
    who: 'ana',
    isOwn: true,
    good: { personId: 'ana', pattern: [{ weekday: 3, shiftId: 'morning' }] },
    bad: [
      ['O not-yours', { personId: 'ben', pattern: [] }],
      ['O unknown-shift', { personId: 'ana', pattern: [{ weekday: 3, shiftId: 'night' }] }],
    ],
  },
  setException: {
    who: 'ana',
    isOwn: true,
    good: { personId: 'ana', date: TOMORROW, shiftId: null, exception: 'away' },
    bad: [
      ['O not-yours', { personId: 'ben', date: TOMORROW, shiftId: null, exception: 'away' }],
      ['O past', { personId: 'ana', date: '2026-03-10', shiftId: null, exception: 'away' }],
    ],
  },
  signOff: {
    who: 'mira',
    good: { personId: 'ana', techniqueId: 'scribe', level: 1, expiresOn: null },
    bad: [
      ['O unknown-technique', { personId: 'ana', techniqueId: 'magic', level: 1, expiresOn: null }],
      ['O past', { personId: 'ana', techniqueId: 'scribe', level: 1, expiresOn: '2026-03-10' }],
      ['R2 no-skill', { personId: 'ana', techniqueId: 'needle', level: 0, expiresOn: null }, [seated]],
    ],
  },
  askSignOff: {
    who: 'ana',
    good: { techniqueId: 'joining', note: 'I would like to' },
    bad: [['O unknown-technique', { techniqueId: 'magic', note: '' }]],
  },
  dropSignOffAsk: {
    who: 'ana',
    isOwn: true,
    lab: [asked],
    good: { askId: 'ana.needle' },
    bad: [['O unknown-ask', { askId: 'ana.brush' }]],
  },
  attend: {
    who: 'ana',
    isOwn: true,
    good: { personId: 'ana', date: TODAY, shiftId: 'morning', state: 'late', dueAt: '10:30' },
    bad: [
      ['O not-yours', { personId: 'ben', date: TODAY, shiftId: 'morning', state: 'in', dueAt: null }],
      ['O past', { personId: 'ana', date: '2026-03-10', shiftId: 'morning', state: 'in', dueAt: null }],
      ['O not-yet', { personId: 'ana', date: TOMORROW, shiftId: 'morning', state: 'in', dueAt: null }],
      ['O due-without-late', { personId: 'ana', date: TODAY, shiftId: 'morning', state: 'in', dueAt: '10:30' }],
    ],
  },
  setContact: {
    who: 'ana',
    isOwn: true,
    good: { contact: { id: 'ana', phone: '1', email: '', emergency: '' } },
    bad: [['O not-yours', { contact: { id: 'ben', phone: '1', email: '', emergency: '' } }]],
  },
  writePrivateNote: {
    who: 'mira',
    good: { note: { id: 'n1', aboutPersonId: 'ana', aboutPieceId: null, text: 'tired' } },
    bad: [
      ['O unknown-person', { note: { id: 'n1', aboutPersonId: 'x', aboutPieceId: null, text: 'tired' } }],
      ['O empty-text', { note: { id: 'n1', aboutPersonId: 'ana', aboutPieceId: null, text: ' ' } }],
    ],
  },
} satisfies Record<string, Case>
