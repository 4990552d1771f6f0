// Opens the lab of a store with everything it needs from elsewhere: the acts of #lib/ops as the gate's table, questions
// answered by computing, the server's own act at the start of a day.
import { faceFor, type PersonId } from '#lib/words'
import { foresight, hindsightAsker } from './foresight.ts'
import { forgetful } from './forgetting.ts'
import { freshId } from './fresh-id.ts'
import type { OpenLab } from './house.ts'
import { labOps } from './lab-ops.ts'
import { type LabsOptions, openLabs } from './labs.ts'
import { readsLog } from './reads.ts'
import { safetyAsker } from './safety.ts'
import { createSeasons, noteWeekly, type SeasonThreads, seasonAsks } from './season/index.ts'
import { type Solver, solverAsks } from './solver/index.ts'
import type { Store } from './store/contract.ts'
import { wsSocket } from './sync/ws-socket.ts'

/** What a lab is opened with. The threads that compute belong to the process: all its labs share them. */
export interface OpenOptions extends Pick<LabsOptions, 'clock' | 'chance' | 'log' | 'spans' | 'build'> {
  readonly solver: Solver
  readonly seasonThreads: SeasonThreads
}

/** Opens one lab of the store. */
export async function openLab(store: Store, labId: string, world: OpenOptions): Promise<OpenLab> {
  const reads = readsLog(store, labId, world)
  const { solver } = world
  const seasons = createSeasons({ ...world, threads: world.seasonThreads })
  const labs = openLabs({
    ...world,
    store: forgetful(store),
    asks: { ...solverAsks(solver), ...seasonAsks(seasons), hindsight: hindsightAsker, safety: safetyAsker(reads.note) },
    ops: labOps,
    // One id a day: after a restart, or on another server, it is known to be done.
    followUp: foresight(() => freshId(world)),
    dayOp: (date) => ({ id: `begin-day-${date}`, kind: 'beginDay', date }),
  })
  const room = await labs.lab(labId)
  const stopNoting = noteWeekly(room, { clock: world.clock, seasons }, (op) => {
    room.submit(op, { personId: 'system' as PersonId, role: 'system' }).catch(() => {})
  })
  return {
    records: () => room.records,
    async act(body, who) {
      const answer = await room.submit({ ...body, id: freshId(world) }, who)
      return answer.ok ? [] : answer.findings
    },
    connect(socket, { session, who, path, params }) {
      const visitor = { id: session.key, personId: who.personId }
      if (path === 'office' && who.personId && faceFor(who.role, 'office')) reads.note(who.personId, 'office', null)
      room.connect(wsSocket(socket, world.clock), visitor, path, { epoch: params.get('epoch') ?? '' })
    },
    signOut: (session) => room.endSession(session.key),
    noteRead: reads.note,
    isWell: () => room.state === 'well',
    connections: () => room.connectionCount,
    async close() {
      stopNoting()
      await labs.close()
      await reads.close()
    },
  }
}
