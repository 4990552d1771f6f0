// Appends to a store until it is killed, saying each position once it is acknowledged; run as a process of its own.
import { writeSync } from 'node:fs'
import { pathToFileURL } from 'node:url'
import { put } from '#lib/words'
import { openLibsql } from '../../server/store/libsql.ts'
import { aJacketRecord } from './fake-lab.ts'

const [folder = '', worker = ''] = process.argv.slice(2)
const store = await openLibsql({ folder, worker: pathToFileURL(worker) })
for (let seq = await store.head('a'); ; ) {
  const batch = Array.from({ length: 1 + (seq % 4) }, (_, i) => ({
    opId: `op-${seq + i + 1}`,
    kind: 'mark',
    op: { text: 'x'.repeat(seq % 300) },
    personId: 'vera',
    at: '2026-03-12T08:00:00.000Z',
    changes: [put('jacket', aJacketRecord('j1', { shelf: `shelf ${seq + i + 1}` }))],
    subjects: ['j1'],
  }))
  const appended = await store.append('a', seq, batch)
  if (!appended.ok) throw new Error(`Not appended: ${appended.why}`)
  seq = appended.seq
  // Straight to the pipe: what was said must not be lost with the process.
  writeSync(1, `${seq}\n`)
}
