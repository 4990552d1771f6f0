// The acts of #lib/ops as the gate's table.
import { applyOp, judgeOp, needsOf, type Op, parseOp, subjectsOf } from '#lib/ops'
import type { OpTable } from './gate.ts'

const table: OpTable<Op> = {
  parse: parseOp,
  needs: needsOf,
  judge: judgeOp,
  apply: applyOp,
  subjects: (records, _op, changes) => subjectsOf(records, changes),
}

/** The table as the gate takes it: it hands a table's functions only ops that the table's own parse has made. */
export const labOps = table as unknown as OpTable
