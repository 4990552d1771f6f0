// Incidents as a file: everybody of the crew takes out what they told, whoever looks after safety takes out all, which is
// noted, and nobody else anything. What was told stays when its author's data goes, under the attribution they chose.
import { describe, expect, test } from 'vitest'
import { isPrivateOf } from '#lib/ops'
import { kinds, put, type Records } from '#lib/words'
import { outletsOf } from '../../../server/out/outlets.ts'
import { memoryStore } from '../../../server/store/memory.ts'
import { fakeClock } from '../../kit/fake-clock.ts'
import { aPerson, recordsOf } from '../../kit/makers.ts'
import { act } from '../../kit/makers-ops.ts'

const told = (id: string, by: string, what: string) =>
  put(
    'incident',
    kinds.incident.parse({
      ...{ id, kind: 'near miss', date: '2026-03-11', what, done: '', personId: null, placeId: null, pieceId: null },
      ...{ by, at: '2026-03-11T10:00:00.000Z', corrects: null },
    }),
  )
const lab = recordsOf(
  ...(['mara', 'petra', 'vera', 'viktor', 'sven', 'rosa'] as const).map((id) =>
    put('person', aPerson({ id, name: `Name of ${id}`, role: roleOf(id), isSafety: id === 'sven' })),
  ),
  told('i1', 'vera', '=the sling slipped'),
  told('i2', 'viktor', 'a hose came off'),
)

function roleOf(id: string) {
  return id === 'mara' ? 'manager' : id === 'petra' ? 'preparator' : id === 'rosa' ? 'researcher' : 'volunteer'
}

/** The file of that name as somebody gets it, and what was noted of it. */
async function taken(name: string, personId: string | null, records: Records = lab) {
  const noted: unknown[] = []
  const house = {
    ...{ store: memoryStore(), labId: 'fake' },
    lab: { records: () => records, noteRead: (...what: unknown[]) => noted.push(what) },
  }
  const outlets = outletsOf(house as unknown as Parameters<typeof outletsOf>[0], fakeClock())
  const role = personId === null ? 'wall' : roleOf(personId)
  const file = outlets({ personId, role } as Parameters<typeof outlets>[0], name, 'http://lab')
  let text = ''
  if (file !== null && file !== 'not-allowed') for await (const part of file.parts) text += part
  return { text, noted, isRefused: file === 'not-allowed' }
}

describe('incidents as a file', () => {
  test.each(['incidents.csv', 'incidents.json'])('%s holds what its reader may read, and is noted', async (name) => {
    for (const who of ['mara', 'sven']) {
      const { text, noted } = await taken(name, who)
      expect([text.includes('the sling slipped'), text.includes('a hose came off')], who).toEqual([true, true])
      expect(noted).toEqual([[who, 'incidents', null]])
    }
    const own = await taken(name, 'vera')
    expect([own.text.includes('the sling slipped'), own.text.includes('a hose came off')]).toEqual([true, false])
    expect(own.noted).toEqual([])
    expect((await taken(name, 'petra')).text).not.toMatch(/sling|hose|Name of v/)
    for (const who of ['rosa', null]) expect(await taken(name, who)).toEqual({ text: '', noted: [], isRefused: true })
  })

  test('a spreadsheet reckons with none of its cells', async () => {
    const { text } = await taken('incidents.csv', 'mara')
    expect(text.split('\r\n')).toHaveLength(4)
    expect(text).toContain(`,'=the sling slipped,`)
  })

  test('stay when the data of whoever told them goes, under the name that is left of them', async () => {
    expect(isPrivateOf('incident', lab.incident.get('i1') ?? ({} as never), 'vera')).toBe(false)
    const { records } = act(lab, 'mara', { kind: 'erasePerson', personId: 'vera', as: 'volunteer' })
    const { text } = await taken('incidents.csv', 'mara', records)
    expect(text).toContain('the sling slipped,,a volunteer,2026-03-11T10:00:00.000Z')
    expect(text).not.toContain('Name of vera')
  })
})
