// The texts of a lab that somebody has open, and who may type in them: the staff, and a volunteer on a piece that is
// theirs today. Everybody else of the lab reads along.
import type { Records } from '#lib/words'
import type { Connection } from './sync/connection.ts'
import { CLOSE } from './sync/socket.ts'
import { Text, type TextReader, type TextWorld } from './texts.ts'

/** A reader's way in and out of a text. */
export interface InText {
  readonly epoch: string
  readonly sync: (stateVector: Uint8Array) => void
  readonly write: (update: Uint8Array) => void
  readonly leave: () => void
}

interface Open {
  readonly opening: Promise<Text>
  /** Readers, those on their way in included. */
  users: number
}

export class TextRooms {
  readonly #world: TextWorld
  readonly #open = new Map<string, Open>()

  constructor(world: TextWorld) {
    this.#world = world
  }

  /** Lets a connection into the text it asked for; `leave` must be called in the end. */
  async enter(connection: Connection, records: Records, today: () => string): Promise<InText> {
    const name = connection.place
    const open = this.#open.get(name) ?? { opening: Text.open(name, this.#world), users: 0 }
    this.#open.set(name, open)
    open.users++
    let text: Text
    try {
      text = await open.opening
    } catch (error) {
      this.#open.delete(name)
      throw error
    }
    const reader = readerOf(connection, records, today)
    text.readers.add(reader)
    return {
      epoch: text.epoch,
      sync: (stateVector) => text.sync(reader, stateVector),
      write: (update) => text.write(reader, update),
      leave: () => {
        text.leave(reader)
        open.users--
        void this.#dropUnread(name, open, text)
      },
    }
  }

  /** Waits until what is on its way is kept. */
  async close(): Promise<void> {
    for (const { opening } of this.#open.values()) {
      const text = await opening.catch(() => null)
      await text?.settled()
      text?.destroy()
    }
    this.#open.clear()
  }

  async #dropUnread(name: string, open: Open, text: Text): Promise<void> {
    await text.settled()
    if (open.users > 0 || this.#open.get(name) !== open) return
    this.#open.delete(name)
    text.destroy()
  }
}

function readerOf(connection: Connection, records: Records, today: () => string): TextReader {
  const { personId, role } = connection.visitor
  const pieceId = connection.place.slice('text/'.length)
  return {
    personId: personId ?? '',
    send: (frame) => connection.send(frame),
    mayWrite: () =>
      role === 'manager' ||
      role === 'preparator' ||
      (role === 'volunteer' && isTheirsToday(records, personId ?? '', pieceId, today())),
    // For good: coming again by itself would send the same once more.
    refuse: (why) => (why === 'bad' ? connection.end('bad-message') : connection.end('too-much', CLOSE.badMessage)),
    again: () => connection.close(CLOSE.again, 'again'),
  }
}

function isTheirsToday(records: Records, personId: string, pieceId: string, today: string): boolean {
  const isIt = (one: { personId: string; pieceId: string; date: string }) =>
    one.personId === personId && one.pieceId === pieceId && one.date === today
  return [...records.assignment.values()].some(isIt) || [...records.work.values()].some(isIt)
}
