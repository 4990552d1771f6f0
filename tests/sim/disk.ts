// A disk that a simulation can hurt, under the store's memory twin. What a batch of appended entries goes through is
// modelled as a file: framed and checksummed, written, then synced, each taking time. Between any two of these a process may
// be killed (what it wrote may be there, torn or not at all) or the power fail (what was not synced may be lost or torn).
// Recovery reads the frames that are whole. Not modelled here: SQLite's own pages, and texts typed together, which are
// kept at once; the libsql store is killed for real in tests/server/store.
import { crc32 } from 'node:zlib'
import type { Random } from '#lib/base'
import { type Appended, type Entry, type Store, StoreTrouble } from '../../server/store/contract.ts'
import { memoryStore } from '../../server/store/memory.ts'
import type { FakeClock } from '../kit/fake-clock.ts'

/** One life of a server's process. */
export interface Run {
  isDead: boolean
  /** Ends its sockets, as the system does for a process that is gone. */
  readonly drops: Set<() => void>
}

export type DiskFault = 'full' | 'io' | 'answer-lost'

const HEAD_BYTES = 8
/** Below the half of the time that a write and its sync take at most. */
const WRITE_PART_MS = 5
const never = <T>(): Promise<T> => new Promise(() => {})

export class SimDisk {
  readonly #clock: FakeClock
  readonly #dice: Random
  readonly #count: (fault: string) => void
  #memory = memoryStore()
  /** The file: what is synced, and what a write in progress laid behind it. */
  #synced: Buffer = Buffer.alloc(0)
  #tail: Buffer = Buffer.alloc(0)
  /** One writer at a time, as the file's lock has it. */
  #lock: Promise<unknown> = Promise.resolve()
  #life = 0
  #faults: DiskFault[] = []
  readonly #listeners = new Map<(seq: number) => void, string>()

  constructor(clock: FakeClock, dice: Random, count: (fault: string) => void) {
    this.#clock = clock
    this.#dice = dice
    this.#count = count
  }

  /** What is durable now. */
  get store(): Store {
    return this.#memory
  }

  /** Passes time until a write is under way, and a part of the time it takes; false when none began within `msMax`. */
  async passIntoWrite(msMax: number): Promise<boolean> {
    for (let ms = 0; ms < msMax && this.#tail.length === 0; ms++) await this.#clock.pass(1)
    if (this.#tail.length === 0) return false
    await this.#clock.pass(this.#dice.below(WRITE_PART_MS))
    return true
  }

  /** The next appends meet these, one each. */
  hurt(...faults: DiskFault[]): void {
    this.#faults.push(...faults)
  }

  heal(): void {
    this.#faults = []
  }

  /** The store as one process has it; once that is dead nothing it asks for happens or comes back. */
  of(run: Run): Store {
    const life = this.#life
    const isGone = () => run.isDead || life !== this.#life
    return new Proxy(this.#memory, {
      get: (_, name) => {
        if (name === 'append')
          return (lab: string, seq: number, entries: readonly Entry[]) => this.#append(isGone, lab, seq, entries)
        if (name === 'subscribe')
          return (lab: string, onSeq: (seq: number) => void) => {
            const hear = (seq: number) => {
              if (!isGone()) onSeq(seq)
            }
            this.#listeners.set(hear, lab)
            return () => this.#listeners.delete(hear)
          }
        const value: unknown = Reflect.get(this.#memory, name)
        if (typeof value !== 'function') return value
        return async (...args: unknown[]) => {
          if (isGone()) return never()
          const result: unknown = await Reflect.apply(value, this.#memory, args)
          return isGone() ? never() : result
        }
      },
    })
  }

  async #append(isGone: () => boolean, lab: string, seq: number, entries: readonly Entry[]): Promise<Appended> {
    const done = this.#lock.then(() => this.#write(isGone, lab, seq, entries))
    this.#lock = done.catch(() => {})
    const appended = await done
    return appended === 'dead' || isGone() ? never() : appended
  }

  #wait(ms: number): Promise<void> {
    return new Promise((resolve) => this.#clock.after(ms, resolve))
  }

  async #write(isGone: () => boolean, lab: string, seq: number, entries: readonly Entry[]): Promise<Appended | 'dead'> {
    if (isGone()) return 'dead'
    const fault = this.#faults.shift()
    if (fault === 'full' || fault === 'io') {
      this.#count(fault)
      throw new StoreTrouble(fault, 'by chance')
    }
    const twice = await this.#memory.findOps(
      lab,
      entries.map(({ opId }) => opId),
    )
    if (twice.length > 0 || (await this.#memory.head(lab)) !== seq) return this.#memory.append(lab, seq, entries)
    const frame = frameOf({ lab, seq, entries })
    this.#tail = frame
    const killed = () => (this.#tail === frame ? this.#killedWhileWriting() : 'dead')
    await this.#wait(this.#dice.below(6))
    if (isGone()) return killed()
    await this.#wait(this.#dice.below(8))
    if (isGone()) return killed()
    const appended = await this.#commit(lab, seq, entries)
    if (fault === 'answer-lost') {
      this.#count('answersLost')
      throw new StoreTrouble('io', 'the answer got lost')
    }
    await this.#wait(this.#dice.below(2))
    return appended
  }

  async #commit(lab: string, seq: number, entries: readonly Entry[]): Promise<Appended> {
    this.#synced = Buffer.concat([this.#synced, this.#tail])
    this.#tail = Buffer.alloc(0)
    const appended = await this.#memory.append(lab, seq, entries)
    const now = seq + entries.length
    for (const [hear, name] of this.#listeners) if (name === lab) queueMicrotask(() => hear(now))
    return appended
  }

  /** The system still has what a killed process wrote: all, a part that nobody can read, or nothing. */
  async #killedWhileWriting(): Promise<'dead'> {
    const whole = this.#tail
    this.#tail = Buffer.alloc(0)
    if (this.#dice.below(3) > 0) this.#count('lostUnsynced')
    else {
      const batch = readFrame(whole, 0)?.batch
      this.#tail = whole
      if (batch) await this.#commit(batch.lab, batch.seq, batch.entries)
    }
    return 'dead'
  }

  /** Power fails: whatever was not synced is there in whole, in part or not at all. All processes must be dead. */
  async fail(): Promise<void> {
    this.#life++
    const left = this.#dice.below(3) === 0 ? this.#tail.length : this.#dice.below(this.#tail.length + 1)
    if (this.#tail.length > 0) this.#count(left === 0 ? 'lostUnsynced' : left < this.#tail.length ? 'torn' : 'survived')
    const file = Buffer.concat([this.#synced, this.#tail.subarray(0, left)])
    this.#memory = memoryStore()
    this.#lock = Promise.resolve()
    this.#listeners.clear()
    let at = 0
    for (let read = readFrame(file, at); read; read = readFrame(file, at)) {
      await this.#memory.append(read.batch.lab, read.batch.seq, read.batch.entries)
      at = read.next
    }
    this.#synced = file.subarray(0, at)
    this.#tail = Buffer.alloc(0)
  }

  /** Writes before any trouble. */
  async found(lab: string, entries: readonly Entry[]): Promise<void> {
    this.#tail = frameOf({ lab, seq: 0, entries })
    await this.#commit(lab, 0, entries)
  }
}

interface Batch {
  readonly lab: string
  readonly seq: number
  readonly entries: readonly Entry[]
}

function frameOf(batch: Batch): Buffer {
  const body = Buffer.from(JSON.stringify(batch))
  const head = Buffer.alloc(HEAD_BYTES)
  head.writeUInt32LE(body.length, 0)
  head.writeUInt32LE(crc32(body), 4)
  return Buffer.concat([head, body])
}

/** The frame at a place of the file; null when there is none that is whole. */
function readFrame(file: Buffer, at: number): { readonly batch: Batch; readonly next: number } | null {
  if (at + HEAD_BYTES > file.length) return null
  const next = at + HEAD_BYTES + file.readUInt32LE(at)
  const body = file.subarray(at + HEAD_BYTES, next)
  if (next > file.length || crc32(body) !== file.readUInt32LE(at + 4)) return null
  // Its checksum says that we wrote it.
  return { batch: JSON.parse(body.toString()) as Batch, next }
}
