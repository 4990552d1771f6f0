// What may be taken out of a lab as a file, and by whom. Each file is made while it is sent.
import { backlogCsv, specimensCsv } from '#lib/export'
import { type Identity, isStaff } from '../door/index.ts'
import type { House } from '../house.ts'
import type { Clock } from '../world.ts'
import { csvOf } from './csv.ts'
import { darwinCoreOf } from './darwin-core.ts'
import { everythingOf } from './everything.ts'

/** A file on its way out. */
interface Outgoing {
  /** What it is called where it lands. */
  readonly name: string
  readonly type: string
  readonly parts: AsyncIterable<string | Uint8Array>
}

/** The file of that name as this person may have it; `not-allowed`, or null where there is none. `origin`: where the lab is. */
export type Outlets = (who: Identity, name: string, origin: string) => Outgoing | 'not-allowed' | null

type Behind = Pick<House, 'store' | 'labId' | 'lab'>

/** The files of an open lab. */
export function outletsOf({ store, labId, lab }: Behind, clock: Clock): Outlets {
  const at = () => new Date(clock.now()).toISOString()
  const files: Readonly<Record<string, OutletFile>> = {
    'everything.jsonl': {
      isFor: (role) => role === 'manager',
      make: ({ personId }) => {
        lab.noteRead(personId, 'everything', null)
        const now = at()
        const name = lab.records().lab.get('lab')?.name ?? labId
        const parts = everythingOf(store, labId, name, now)
        return { name: `lab-${now.slice(0, 10)}.jsonl`, type: 'application/x-ndjson', parts }
      },
    },
    'backlog.csv': {
      isFor: isStaff,
      make: () => {
        const sealed = csvOf(store, labId, backlogCsv, ({ jacket }) => (jacket?.state === 'sealed' ? jacket : null))
        return spreadsheet('backlog', sealed)
      },
    },
    'darwin-core.zip': {
      isFor: isStaff,
      make: (_who, origin) => {
        const { name: dataset = labId, techniques = [] } = lab.records().lab.get('lab') ?? {}
        const parts = darwinCoreOf(store, { ...{ lab: labId, dataset, techniques, origin }, at: at() })
        return { name: `darwin-core-${at().slice(0, 10)}.zip`, type: 'application/zip', parts }
      },
    },
    'specimens.csv': {
      isFor: isStaff,
      make: () => {
        const specimens = csvOf(store, labId, specimensCsv, (one) => one.specimen)
        return spreadsheet('specimens', specimens)
      },
    },
  }
  const spreadsheet = (name: string, parts: AsyncIterable<string>): Outgoing => ({
    ...{ name: `${name}-${at().slice(0, 10)}.csv`, type: 'text/csv; charset=utf-8', parts },
  })
  return (who, name, origin) => {
    const file = Object.hasOwn(files, name) ? files[name] : undefined
    if (!file) return null
    return who.personId !== null && file.isFor(who.role) ? file.make(who, origin) : 'not-allowed'
  }
}

type Person = Extract<Identity, { readonly role: Exclude<Identity['role'], 'wall'> }>

/** Whom a file is for, asked before it is made. */
interface OutletFile {
  readonly isFor: (role: Person['role']) => boolean
  readonly make: (who: Person, origin: string) => Outgoing
}
