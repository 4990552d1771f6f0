// What may be taken out of a lab as a file, and by whom. Each file is made while it is sent.
import { backlogCsv, incidentsCsv, specimensCsv } from '#lib/export'
import { mayReadSafety } from '#lib/rules'
import { safetyFor } from '#lib/views'
import { faceFor } from '#lib/words'
import { type Identity, isStaff } from '../door/index.ts'
import type { House } from '../house.ts'
import type { PhotoStore } from '../photos/contract.ts'
import type { Clock } from '../world.ts'
import { csvOf } from './csv.ts'
import { darwinCoreOf } from './darwin-core.ts'
import { everythingOf } from './everything.ts'
import { recordPdf } from './record-pdf.ts'

/** A file on its way out. */
interface Outgoing {
  /** What it is called where it lands. */
  readonly name: string
  readonly type: string
  readonly parts: AsyncIterable<string | Uint8Array>
}

/**
 * The file of that name as this person may have it; `not-allowed`, or null where there is none. `origin`: where the lab is;
 * `of`: the pieces it is about, for a file that is about some.
 */
export type Outlets = (
  who: Identity,
  name: string,
  origin: string,
  of?: readonly string[],
) => Outgoing | 'not-allowed' | null

type Behind = Pick<House, 'store' | 'labId' | 'lab'> & { readonly photos: PhotoStore }

/** The files of an open lab. */
export function outletsOf({ store, labId, lab, photos }: Behind, clock: Clock): Outlets {
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
    'records.pdf': {
      // Whoever may read a Sheet may have it on paper.
      isFor: () => true,
      make: ({ role }, _origin, of) => {
        const face = faceFor(role, 'board') ?? 'guest'
        const source = { store, labId, photos, face, records: lab.records(), nowMs: clock.now() }
        return {
          name: `records-${at().slice(0, 10)}.pdf`,
          type: 'application/pdf',
          parts: inOne(recordPdf(source, of)),
        }
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
  return (who, name, origin, of = []) => {
    const file = Object.hasOwn(files, name) ? files[name] : undefined
    if (!file) return null
    return who.personId !== null && file.isFor(who.role) ? file.make(who, origin, of) : 'not-allowed'
  }
}

const isCrew = (role: Person['role']): boolean => role !== 'researcher'

async function* oneWhole(text: string): AsyncGenerator<string> {
  yield text
}

/** A file that is made whole before any of it is sent; breaks off where there is nothing to make it of. */
async function* inOne(file: Promise<Uint8Array | null>): AsyncGenerator<Uint8Array> {
  const whole = await file
  if (!whole) throw new Error('None of these pieces is in the lab.')
  yield whole
}

type Person = Extract<Identity, { readonly role: Exclude<Identity['role'], 'wall'> }>

/** Whom a file is for, asked before it is made. */
interface OutletFile {
  readonly isFor: (role: Person['role']) => boolean
  readonly make: (who: Person, origin: string, of: readonly string[]) => Outgoing
}
