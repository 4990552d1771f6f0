// A door over tables in memory, a clock that the test moves, and a small lab behind it whose gate keeps everything.
import type { OpBody, Who } from '#lib/ops'
import { type Finding, noRecords, PersonId, put, type RecordOf, type Records, withChanges } from '#lib/words'
import { type Door, type LabBehind, openDoor, type Session } from '../../server/door/index.ts'
import type { Door as Tables } from '../../server/store/contract.ts'
import { memoryStore } from '../../server/store/memory.ts'
import type { Log } from '../../server/world.ts'
import { type FakeClock, fakeClock } from './fake-clock.ts'

export interface DoorKit {
  readonly door: Door
  readonly tables: Tables
  readonly clock: FakeClock
  /** Sessions whose connections were to be closed, in order. */
  readonly ended: Session[]
  /** Acts that reached the gate. */
  readonly acts: { readonly body: OpBody; readonly who: Who }[]
  /** What the log was told, a line each. */
  readonly logged: string[]
  /** Changes a person's record, as a kept op would. */
  readonly change: (id: string, patch: Partial<RecordOf<'person'>>) => void
  /** Opens the door again on the same tables, as a restart does. */
  readonly reopen: () => Promise<Door>
}

/** Names of the people in the kit's lab: one of each role, and a manager to be who has not joined. */
export const ids = {
  manager: PersonId.parse('mara'),
  preparator: PersonId.parse('odo'),
  volunteer: PersonId.parse('bea'),
  researcher: PersonId.parse('ruth'),
  newcomer: PersonId.parse('nils'),
} as const

/** A door with people behind it; `isDemo` for the demo lab's. `refusing`: what the gate says to every act. */
export async function aDoor({ isDemo = false, refusing = [] as readonly Finding[] } = {}): Promise<DoorKit> {
  let records = people(isDemo)
  const clock = fakeClock()
  let dice = 0
  const chance = {
    bytes: (count: number) => {
      dice++
      return Uint8Array.from({ length: count }, (_, n) => (dice * 31 + n * 7) % 256)
    },
  }
  const { door: tables } = memoryStore()
  const ended: Session[] = []
  const acts: DoorKit['acts'] = []
  const logged: string[] = []
  const log: Log = (level, what, facts) => logged.push(`${level} ${what} ${JSON.stringify(facts)}`)
  const change: DoorKit['change'] = (id, patch) => {
    const person = records.person.get(id)
    if (person) records = withChanges(records, [put('person', { ...person, ...patch })])
  }
  const lab: LabBehind = {
    records: () => records,
    act: async (body, who) => {
      acts.push({ body, who })
      if (refusing.length === 0 && body.kind === 'editPerson') change(body.personId, defined(body.patch))
      return refusing
    },
  }
  const reopen = () => openDoor(tables, lab, { clock, chance, log }, (session) => ended.push(session))
  return {
    door: await reopen(),
    tables,
    clock,
    ended,
    acts,
    logged,
    change,
    reopen,
  }
}

/** The fields of a patch that say something. */
function defined(patch: object): Partial<RecordOf<'person'>> {
  return Object.fromEntries(Object.entries(patch).filter(([, value]) => value !== undefined))
}

function people(isDemo: boolean): Records {
  const role = { mara: 'manager', odo: 'preparator', bea: 'volunteer', ruth: 'researcher', nils: 'manager' } as const
  // Only what the door reads of the lab's settings; the rest has tests of its own.
  const lab = { id: 'lab', name: 'Yard', isDemo } as RecordOf<'lab'>
  return withChanges(noRecords(), [
    put('lab', lab),
    ...Object.values(ids).map((id) =>
      put('person', {
        id,
        name: `${id.slice(0, 1).toUpperCase()}${id.slice(1)}`,
        familyName: 'Ødegård',
        role: role[id as keyof typeof role],
        skills: [],
        pattern: [],
        exceptions: [],
        loves: [],
        since: '2024-01-01',
        isActive: true,
        hasJoined: id !== ids.newcomer,
      }),
    ),
  ])
}

/** The token of an entered session; fails when the door refused. */
export function tokenOf(entered: Awaited<ReturnType<Door['join']>>): string {
  if ('refused' in entered) throw new Error(`The door refused: ${entered.refused}`)
  return entered.token
}
