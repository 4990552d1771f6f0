// (temporary) reading only
import { type AnyRecord, type Change, noRecords, withChanges } from '#lib/words'
import type { OpenLab } from './house.ts'
import type { Store } from './store/contract.ts'
export async function openLab(store: Store, labId: string, _more: unknown): Promise<OpenLab> {
  const { records } = await store.snapshot(labId, 'board')
  const all = withChanges(
    noRecords(),
    records.map(({ kind, id, record }) => ({ kind, id, record: record as AnyRecord }) as Change),
  )
  return {
    records: () => all,
    act: async () => [],
    connect: (socket) => socket.send('hello'),
    signOut: () => {},
    isWell: () => true,
    close: async () => {},
  }
}
