// One lab's way from an op to a receipt. Ops are judged one at a time in the order they came, on records that already
// hold what was judged before.
//
//   submit → judge → waiting ─┬─ (quiet: at once; busy: up to 10 ms) → append, one fsync → screens → receipts
//                             └─ refusals ride along, since what they rest on may not be durable yet
//
// Loading a sheet, or opening a document for a first reader, takes its turn in the same line, alone, when all that was
// judged before is durable. What follows the judgement is in keeping.ts.
import type { Who } from '#lib/ops'
import { finding, type Home } from '#lib/words'
import type { Answer } from './answers.ts'
import { type GateOp, idOf, judgeAtGate, parseAtGate } from './gate.ts'
import { type Ask, type GateWorld, Keeping } from './keeping.ts'
import type { Entry } from './store/contract.ts'

type Turn = { readonly run: () => Promise<void>; readonly fail: (error: Error) => void }

/** Ops in line before a lab says it is too much. */
const LINE_MAX = 20_000
/** Ops judged before other work of the process has its turn. */
const JUDGED_AT_ONCE = 64

export class GateQueue {
  readonly #world: GateWorld
  readonly #keeping: Keeping
  #line: (Ask | Turn)[] = []
  #isTurn = false
  #isClosed = false
  #cancelPump: (() => void) | null = null

  constructor(world: GateWorld) {
    this.#world = world
    this.#keeping = new Keeping(world, {
      putBack: (asks) => {
        this.#line = [...asks, ...this.#line]
      },
      alone: (run) => {
        this.#line.unshift({ run, fail: () => {} })
        this.#pump()
      },
      goOn: () => this.#pump(),
      isEmpty: () => this.#line.length === 0,
    })
  }

  /** Durable position. */
  get seq(): number {
    return this.#keeping.seq
  }

  get state(): 'well' | 'read-only' {
    return this.#keeping.state
  }

  /** Reads the lab from the store. */
  open(): Promise<void> {
    return this.#keeping.open()
  }

  /** Puts an op in line; false when the line is too long and it was not taken. */
  submit(value: unknown, who: () => Who | null, answer: (answer: Answer) => void): boolean {
    if (this.#isClosed || this.#line.length >= LINE_MAX) return false
    this.#line.push({ value, who, answer })
    this.#pump()
    return true
  }

  /** Runs work that must see durable records only, alone, in its turn. */
  turn<T>(work: () => Promise<T> | T): Promise<T> {
    if (this.#isClosed) return Promise.reject(new Error('The lab is closed.'))
    return new Promise((resolve, reject) => {
      this.#line.push({ run: () => Promise.resolve().then(work).then(resolve, reject), fail: reject })
      this.#pump()
    })
  }

  /** Keeps what can still be kept, then takes nothing more. */
  async close(): Promise<void> {
    if (!this.#isClosed && !this.#keeping.isTrouble && this.#world.store.isWell())
      await this.turn(() => {}).catch(() => {})
    this.#isClosed = true
    this.#keeping.close()
    this.#cancelPump?.()
    for (const next of this.#line) if ('fail' in next) next.fail(new Error('The lab is closed.'))
    this.#line = []
  }

  #pump(): void {
    for (
      let judged = 0;
      this.#line.length > 0 && !this.#isTurn && !this.#keeping.isTrouble && !this.#isClosed;
      judged++
    ) {
      if (judged >= JUDGED_AT_ONCE || this.#keeping.isFull) {
        // Asked again when the batch in flight is done, or after others had their turn.
        if (!this.#keeping.isInFlight) this.#pumpLater()
        break
      }
      const next = this.#line[0]
      if (!next) break
      if ('run' in next) {
        if (!this.#keeping.isSettled) {
          this.#keeping.flushNow()
          return
        }
        this.#line.shift()
        this.#takeTurn(next.run)
        return
      }
      this.#takeOp(next)
    }
    this.#keeping.flushSoon()
  }

  #pumpLater(): void {
    this.#cancelPump ??= this.#world.clock.after(0, () => {
      this.#cancelPump = null
      this.#pump()
    })
  }

  #takeTurn(run: () => Promise<void>): void {
    this.#isTurn = true
    void run().finally(() => {
      this.#isTurn = false
      this.#pump()
    })
  }

  /** Judges the first op in line, or changes it into a turn of its own when something must be loaded first. */
  #takeOp(ask: Ask): void {
    const { records, table } = this.#world
    this.#line.shift()
    const who = ask.who()
    // Not to be heard any more: not answered either, so the op stays with its author.
    if (!who) return
    const id = idOf(ask.value)
    const known = id === null ? undefined : this.#keeping.answers.find(id, who)
    if (known) {
      ask.answer(known)
      return
    }
    const pending = id === null ? undefined : this.#keeping.pending.get(id)
    if (pending) {
      if (pending.by.personId === who.personId) pending.again.push(ask)
      // Nobody but its author knows an op's id by honest means.
      else ask.answer({ ok: false, findings: [finding('O', 'malformed')] })
      return
    }
    const parsed = parseAtGate(table, ask.value)
    if (!parsed.op || id === null) {
      ask.answer({ ok: false, findings: parsed.findings ?? [finding('O', 'malformed')] })
      return
    }
    const { op } = parsed
    const missing = table.needs(records.all, op).filter((need) => !records.holds(need.home))
    if (missing.length === 0) {
      this.#judge(ask, id, op, who)
      return
    }
    const run = async () => {
      try {
        await this.#load(missing)
      } catch {
        // The store cannot read: the op keeps its place.
        this.#line.unshift(ask)
        this.#keeping.trouble()
        return
      }
      // Asked again: what came before it may have been forgotten meanwhile, and then it must be too.
      const now = ask.who()
      if (now) this.#judge(ask, id, op, now)
      for (const { home } of missing) records.release(home)
    }
    this.#line.unshift({ run, fail: () => {} })
  }

  async #load(needs: readonly { readonly home: Home; readonly id?: string }[]): Promise<void> {
    const { store, lab, records } = this.#world
    for (const { home, id } of needs) {
      if (home === 'archive' && id === undefined) throw new Error('Believed: an op names the resting pieces it needs')
      const snapshot = await store.snapshot(lab, home, home === 'archive' ? id : undefined)
      records.load(home, snapshot.records)
    }
  }

  #judge(ask: Ask, id: string, op: GateOp, who: Who): void {
    const { records, table, log, spans } = this.#world
    const when = this.#world.when()
    const verdict = spans.judge(op.kind, () => judgeAtGate(table, records.all, op, who, when, log))
    if (!verdict.ok) {
      this.#keeping.settle({ ...ask, id, by: who, again: [], findings: verdict.findings })
      return
    }
    const { changes, subjects } = verdict.passed
    const personId = who.role === 'system' || who.role === 'wall' ? null : who.personId
    const entry: Entry = { opId: id, kind: op.kind, op, personId, at: when.at, changes, subjects }
    this.#keeping.settle({ ...ask, id, by: who, again: [], entry, before: records.apply(changes) })
  }
}
