// Random histories: any ops by anybody on a small lab. The seed is printed; TALUS_SEED replays one. What is asked of
// every step: nobody gets more than their role may, a refusal leaves no trace, nothing given is mutated, what comes out
// fits its schema, every state keeps the rules (said again plainly beside this file), an act done twice counts once,
// and an act taken back is as if it had not been.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  applyOp,
  inverseOf,
  judgeOp,
  needsOf,
  type Op,
  type OpKind,
  opSchemas,
  parseOp,
  subjectsOf,
  type Who,
} from '#lib/ops'
import { fitForMe } from '#lib/rules'
import {
  type AnyRecord,
  type Change,
  homeOf,
  type Kind,
  kindNames,
  kinds,
  OpId,
  put,
  type Records,
  remove,
  withChanges,
} from '#lib/words'
import { system } from '../../kit/makers-ops.ts'
import { brokenRules, overPlanned } from './plain-rules.ts'
import { histories, type Move, tightLab } from './random-lab.ts'
import { opOf, whenOf, whoOf } from './random-ops.ts'
import { letterOf, mayDo, mayTouch } from './tables.ts'
import { isTheirsToChange } from './theirs.ts'

const seed = Number(process.env.TALUS_SEED ?? 20260311)
const RUNS = 1000
const allKinds = Object.keys(opSchemas) as OpKind[]

/** Map and records that cannot be written: whoever tries is found at once. */
class Sealed extends Map<string, AnyRecord> {
  #isSealed = false
  seal(): this {
    this.#isSealed = true
    return this
  }
  override set(key: string, value: AnyRecord): this {
    if (this.#isSealed) throw new Error(`mutated: set ${key}`)
    return super.set(key, freeze(value))
  }
  override delete(key: string): boolean {
    throw new Error(`mutated: delete ${key}`)
  }
}

function freeze<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value)
    for (const inner of Object.values(value)) freeze(inner)
  }
  return value
}

function sealed(records: Records, before?: Records): Records {
  const entries = kindNames.map((kind) => {
    if (before && before[kind] === records[kind]) return [kind, records[kind]] as const
    const map = new Sealed()
    for (const [id, record] of records[kind]) map.set(id, record)
    return [kind, map.seal()] as const
  })
  return Object.fromEntries(entries) as unknown as Records
}

type Step = {
  readonly before: Records
  readonly op: Op
  readonly who: Who
  readonly when: ReturnType<typeof whenOf>
  readonly codes: readonly string[]
  readonly changes: readonly Change[]
  readonly after: Records
}

/** Plays a history and shows each step to `see`. */
function play(moves: readonly Move[], see: (step: Step) => void): void {
  let records = sealed(tightLab())
  let day = 0
  let hour = 0
  moves.forEach((move, n) => {
    if (move.kind === 'clock') {
      day += 1
      hour = 0
    }
    const when = whenOf(day, hour++)
    const who = move.kind === 'clock' ? system : whoOf(records, move)
    const begin = parseOp({ id: `op${n}`, kind: 'beginDay', date: when.date }).op ?? null
    const op = move.kind === 'clock' ? begin : opOf(records, move, when, who, n)
    if (!op) return
    const before = records
    const codes = judgeOp(before, op, who, when).map((one) => `${one.rule} ${one.code}`)
    const changes = codes.length > 0 ? [] : applyOp(before, op, who, when)
    records = codes.length > 0 ? before : sealed(withChanges(before, changes), before)
    see({ before, op, who, when, codes, changes, after: records })
  })
}

function check(name: string, seedOffset: number, see: (step: Step) => void): void {
  const own = seed + seedOffset
  const counts = { accepted: 0, refused: 0 }
  const property = fc.property(histories(allKinds), (moves) => {
    play(moves, (step) => {
      if (step.codes.length > 0) counts.refused += 1
      else counts.accepted += 1
      see(step)
    })
  })
  console.log(`${name}: ${RUNS} histories, seed ${own}`)
  fc.assert(property, { numRuns: RUNS, seed: own })
  // A run in which hardly anything is accepted would prove nothing.
  expect(counts.accepted).toBeGreaterThan(RUNS * 2)
  expect(counts.refused).toBeGreaterThan(RUNS * 2)
}

describe('random histories', { timeout: 120_000 }, () => {
  test('R1–R6 hold in every state, said again by plain code', () => {
    const deciding: readonly OpKind[] = ['post', 'seat', 'claim']
    check('rules', 1, ({ before, op, when, who, after, codes }) => {
      if (codes.length > 0) return
      const wrong = [...brokenRules(after, when.date)]
      if (deciding.includes(op.kind)) wrong.push(...overPlanned(after, op, who))
      expect(wrong).toEqual([])
      for (const kind of ['log', 'entry'] as const) {
        for (const [id, record] of before[kind]) expect(after[kind].get(id), 'R6').toBe(record)
      }
    })
  })

  test('O nobody gets more than their role may, and a refusal leaves no trace', () => {
    // Records and maps are frozen in `play`, so whoever mutates what was given throws.
    check('roles', 2, ({ before, op, who, when, codes, changes, after }) => {
      if (codes.length > 0) {
        expect(after).toBe(before)
        return
      }
      if (who.role === 'system') return
      expect(mayDo[op.kind]).toContain(letterOf[who.role])
      expect(before.person.get(who.personId)).toMatchObject({ role: who.role, isActive: true })
      if (who.role !== 'researcher' && who.role !== 'volunteer') return
      for (const change of changes) {
        expect(mayTouch[who.role]).toContain(change.kind)
        expect(isTheirsToChange(before, change, who, when.date), JSON.stringify({ op, change })).toBe(true)
      }
    })
  })

  test('O what an op makes fits its schema, its home and its history', () => {
    check('schemas', 3, ({ before, op, changes }) => {
      for (const change of changes) {
        if (!change.record) continue
        expect(change.record.id).toBe(change.id)
        const parsed = kinds[change.kind].safeParse(change.record)
        expect(parsed.success, `${op.kind} ${change.kind} ${JSON.stringify(parsed.error?.issues)}`).toBe(true)
        expect(homeOf(change.kind, change.record)).toBeTruthy()
      }
      expect(new Set(changes.map((change) => `${change.kind} ${change.id}`)).size).toBe(changes.length)
      for (const need of needsOf(before, op)) expect(need.home).toMatch(/^(archive|sheet\/.+)$/)
      for (const subject of subjectsOf(before, changes)) expect(subject).not.toBe('')
    })
  })

  test('O what “fit for me” offers can be claimed, and what can be claimed is offered', () => {
    const elsewhere = ['O role', 'O role-changed', 'O not-of-the-lab', 'O past', 'O shift-over', 'O ask-manager']
    let offered = 0
    check('fit', 5, ({ before, op, who, codes }) => {
      if (op.kind !== 'claim' || codes.some((code) => elsewhere.includes(code))) return
      const fit = fitForMe(before, who, op.date, op.shiftId).find((one) => one.pieceId === op.pieceId)
      const isOffered = fit?.ways.some(
        (way) => way.stepId === op.stepId && way.placeId === op.placeId && !way.findings.length,
      )
      if (isOffered) offered += 1
      expect([isOffered ?? false, codes]).toEqual([codes.length === 0, codes])
    })
    expect(offered).toBeGreaterThan(100)
  })

  test('O an act done twice counts once, and one taken back is as if it had not been', () => {
    let again = 0
    let back = 0
    check('twice and back', 4, ({ before, op, who, when, codes, after }) => {
      if (codes.length > 0) return
      if (judgeOp(after, op, who, when).length === 0) {
        // Whatever is not refused the second time must be the same fact again.
        again += 1
        expect(facts(withChanges(after, applyOp(after, op, who, when)))).toEqual(facts(after))
      }
      const inverse = inverseOf(before, op, OpId.parse('back'), who)
      if (!inverse || judgeOp(after, inverse, who, when).length > 0) return
      back += 1
      expect(parseOp(inverse).op, inverse.kind).toBeTruthy()
      const taken = withChanges(after, applyOp(after, inverse, who, when))
      const isWritten = op.kind === 'moveStage' || op.kind === 'signOff'
      expect(facts(leftBy(op, taken, who), isWritten), `${op.kind} → ${inverse.kind}`).toEqual(
        facts(leftBy(op, before, who), isWritten),
      )
    })
    expect(Math.min(again, back)).toBeGreaterThan(RUNS)
  })
})

/**
 * The records without what an act and its inverse rightly leave: a planned step stays on the Sheet, dropped; a piece that
 * went to rest lies on its shelf; who changes their own seat has seen what others changed of it.
 */
function leftBy(op: Op, given: Records, who: Who): Records {
  const seen = [...given.reseat.values()].filter((told) => told.personId === who.personId)
  const records = withChanges(
    given,
    seen.map((told) => remove('reseat', told.id)),
  )
  if (op.kind === 'addStep') return withChanges(records, [remove('step', op.step.id)])
  if (op.kind !== 'rest') return records
  const specimen = records.specimen.get(op.pieceId)
  const jacket = records.jacket.get(op.pieceId)
  return withChanges(records, [
    ...(specimen ? [put('specimen', { ...specimen, placeId: null })] : []),
    ...(jacket ? [put('jacket', { ...jacket, placeId: null })] : []),
  ])
}

describe('the door', () => {
  test('O takes anything at all without falling over', () => {
    const own = seed + 8
    console.log(`door: ${RUNS} values, seed ${own}`)
    const kind = fc.constantFrom(...allKinds, 'constructor', '__proto__', 'toString')
    const like = fc.record({
      id: fc.anything(),
      kind,
      personId: fc.anything(),
      patch: fc.anything(),
      assignments: fc.anything(),
    })
    const property = fc.property(fc.oneof(fc.anything(), like, fc.jsonValue()), (value) => {
      const parsed = parseOp(value)
      expect(parsed.op !== undefined).toBe(parsed.findings === undefined)
      for (const one of parsed.findings ?? []) expect(JSON.stringify(one).length).toBeLessThan(400)
    })
    fc.assert(property, { numRuns: RUNS, seed: own })
  })
})

/** Fields that say when and by whom something was last said: the same fact may be said again. */
const stamps: ReadonlySet<string> = new Set([
  'at',
  'by',
  'on',
  'postedAt',
  'postedBy',
  'times',
  'how',
  'stageSince',
  'since',
])

function facts(records: Records, withoutEntries = false): unknown {
  const strip = (record: AnyRecord) =>
    Object.fromEntries(
      Object.entries(record)
        .filter(([key, value]) => !(stamps.has(key) && typeof value !== 'object'))
        .map(([key, value]) => [key, key === 'skills' ? skillFacts(value) : value]),
    )
  const skip: readonly Kind[] = withoutEntries ? ['entry', 'signing'] : []
  return kindNames
    .filter((kind) => kind !== 'signOffAsk' && !skip.includes(kind))
    .map((kind) => [kind, [...records[kind].values()].map(strip).sort(byId)])
}

function skillFacts(value: unknown): unknown {
  if (!Array.isArray(value)) return value
  const seen = value.map(({ techniqueId, level, expiresOn }) => `${techniqueId} ${level} ${expiresOn}`)
  return seen.sort()
}

function byId(a: Record<string, unknown>, b: Record<string, unknown>): number {
  return String(a.id) < String(b.id) ? -1 : 1
}
