// What may be taken out of a lab as a file, and by whom. Each file is made while it is sent.
import { backlogCsv, incidentsCsv, specimensCsv } from '#lib/export'
import { mayReadSafety } from '#lib/rules'
import { safetyFor } from '#lib/views'
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
    'incidents.csv': {
      isFor: isCrew,
      make: (who) => {
        const part = incidentsCsv(incidentsFor(who), lab.records())
        return spreadsheet('incidents', oneWhole(part))
      },
    },
    'incidents.json': {
      isFor: isCrew,
      make: (who) => {
        const parts = oneWhole(`${JSON.stringify(incidentsFor(who), null, 2)}\n`)
        return { name: `incidents-${at().slice(0, 10)}.json`, type: 'application/json', parts }
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
  /** What was told, as far as they may read it: one's own, and all to whoever looks after safety, which is noted. */
  const incidentsFor = ({ personId }: Person) => {
    const records = lab.records()
    if (mayReadSafety(records, personId)) lab.noteRead(personId, 'incidents', null)
    return safetyFor(records, personId, null).incidents
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

const isCrew = (role: Person['role']): boolean => role !== 'researcher'

async function* oneWhole(text: string): AsyncGenerator<string> {
  yield text
}

type Person = Extract<Identity, { readonly role: Exclude<Identity['role'], 'wall'> }>

/** Whom a file is for, asked before it is made. */
interface OutletFile {
  readonly isFor: (role: Person['role']) => boolean
  readonly make: (who: Person, origin: string) => Outgoing
}
