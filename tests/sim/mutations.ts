// The guarantees, and for each a change of the code that takes it away.

export interface Mutation {
  readonly name: string
  readonly patches: readonly { readonly file: string; readonly from: string; readonly to: string }[]
}

const one = (name: string, file: string, from: string, to: string): Mutation => ({
  name,
  patches: [{ file, from, to }],
})

export const mutations: readonly Mutation[] = [
  one(
    'R8 a receipt before the fsync',
    'server/keeping.ts',
    'spans.append(entries, append).then(',
    'const asked = spans.append(entries, append)\n    asked.catch(() => {})\n    Promise.resolve({ ok: true as const, seq: 0, why: "position" as never, opIds: [] }).then(',
  ),
  {
    name: 'R8 an op is not known by its id',
    patches: [
      { file: 'server/gate-queue.ts', from: 'this.#keeping.answers.find(id, who)', to: 'undefined' },
      { file: 'server/gate-queue.ts', from: 'this.#keeping.pending.get(id)', to: 'undefined' },
      { file: 'server/store/memory.ts', from: 'if (twice.length > 0)', to: 'if (twice.length > 1e9)' },
      { file: 'tests/sim/disk.ts', from: 'twice.length > 0 || ', to: '' },
    ],
  },
  one(
    'everybody is shown everything',
    'lib/words/faces.ts',
    "if (face === 'manager') return record",
    'if (face) return record',
  ),
  one(
    'preparators read private notes',
    'lib/words/faces.ts',
    "if (face === 'crew') return managerKinds.includes(kind) ? null : record",
    "if (face === 'crew') return record",
  ),
  one('R1 seats are not counted', 'lib/rules/one-place.ts', 'people > one.place.seats', 'people > 1e9'),
  one('R4 air is not counted', 'lib/rules/judge.ts', '...judgeAir(day),', ''),
  one('R3 force is not looked at', 'lib/rules/judge.ts', '...judgeForce(day), ', ''),
  one('R5 exposure is not counted', 'lib/rules/judge.ts', '...judgeExposure(day),', ''),
  one('R2 learners need no mentor', 'lib/rules/judge.ts', '...judgeMentors(day),', ''),
  one('roles are not asked', 'lib/ops/dispatch.ts', 'if (actor.length > 0) return actor', ''),
  one(
    'posted days are not judged again',
    'lib/ops/dispatch.ts',
    'return judgeKeptDays(records, changes, when.date)',
    'return []',
  ),
  one(
    'the epoch is ignored',
    'app/_board/core/base.ts',
    "this.#epoch !== '' && message.epoch !== this.#epoch",
    'false',
  ),
  one(
    'the outbox is dropped on reload',
    'app/_board/core/memory-shelf.ts',
    'waiting: async () => inOrder(disk.waiting) as Waiting[]',
    'waiting: async () => []',
  ),
  one(
    'what was not durable stays in the records',
    'server/keeping.ts',
    'if (before) this.#world.records.apply(before)',
    'if (!before) this.#world.records.apply([])',
  ),
  one(
    'the log is no chain',
    'server/sealing.ts',
    'if (head?.seq === seq) return head.link',
    'if (head) return NOTHING',
  ),
  one('another server is not heard', 'server/keeping.ts', 'records.apply(changes)\n      this.#seq', 'this.#seq'),
  one('refusals leave their changes', 'server/gate.ts', 'if (findings.length > 0) return { ok: false, findings }', ''),
  one(
    'a clock set back holds the lab up',
    'server/keeping.ts',
    'this.#paidUntil = Math.min(this.#paidUntil, ',
    'void (',
  ),
  one(
    'trouble is told for ever',
    'server/keeping.ts',
    "if (!this.#isTrouble && this.#line.isEmpty()) this.#tell('well')",
    '',
  ),
]
