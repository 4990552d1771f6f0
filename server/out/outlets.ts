// What may be taken out of a lab as a file, and by whom. Each file is made while it is sent.
import { backlogCsv, specimensCsv } from '#lib/export'
import type { Identity } from '../door/index.ts'
import type { House } from '../house.ts'
import type { Clock } from '../world.ts'
import { csvOf, sealedJacket, specimen } from './csv.ts'
import { everythingOf } from './everything.ts'

/** A file on its way out. */
interface Outgoing {
  /** What it is called where it lands. */
  readonly name: string
  readonly type: string
  readonly parts: AsyncIterable<string | Uint8Array>
}

/** The file of that name as this person may have it; `not-allowed`, or null where there is none. */
export type Outlets = (who: Identity, name: string) => Outgoing | 'not-allowed' | null

type Behind = Pick<House, 'store' | 'labId' | 'lab'>

/** The files of an open lab. */
export function outletsOf({ store, labId, lab }: Behind, clock: Clock): Outlets {
  const at = () => new Date(clock.now()).toISOString()
  const files: Readonly<Record<string, (who: Person) => Outgoing | 'not-allowed'>> = {
    'everything.jsonl': ({ role, personId }) => {
      if (role !== 'manager') return 'not-allowed'
      lab.noteRead(personId, 'everything', null)
      const now = at()
      const name = lab.records().lab.get('lab')?.name ?? labId
      const parts = everythingOf(store, labId, name, now)
      return { name: `lab-${now.slice(0, 10)}.jsonl`, type: 'application/x-ndjson', parts }
    },
    'backlog.csv': ({ role }) =>
      isStaff(role) ? spreadsheet('backlog', csvOf(store, labId, backlogCsv, sealedJacket)) : 'not-allowed',
    'specimens.csv': ({ role }) =>
      isStaff(role) ? spreadsheet('specimens', csvOf(store, labId, specimensCsv, specimen)) : 'not-allowed',
  }
  const spreadsheet = (name: string, parts: AsyncIterable<string>): Outgoing => ({
    ...{ name: `${name}-${at().slice(0, 10)}.csv`, type: 'text/csv; charset=utf-8', parts },
  })
  return (who, name) => {
    const make = Object.hasOwn(files, name) ? files[name] : undefined
    if (!make) return null
    return who.personId === null ? 'not-allowed' : make(who)
  }
}

type Person = Extract<Identity, { readonly role: Exclude<Identity['role'], 'wall'> }>

const isStaff = (role: Person['role']) => role === 'manager' || role === 'preparator'
