// The client's session: whom this browser acts for, and whether anybody answers. The person's things lie on a desk
// (desk.ts); the session opens it, shows it and, when the person or the role changes, clears it away.
//
// Nothing of a stored copy is shown before it is known that this browser still acts for the same person and role:
// either the server's hello says so, or nobody answers at all (offline).
import type { OpBody, When } from '#lib/ops'
import { type Finding, PROTOCOL_VERSION, type ServerMessage } from '#lib/words'
import { Asks } from './asks.ts'
import type { Stop } from './cell.ts'
import { type Acted, Desk } from './desk.ts'
import type { PhotoQueue } from './photo-queue.ts'
import { type Identity, isSameIdentity, type Ports, type Shelf } from './ports.ts'
import { Presence } from './presence.ts'
import { saveOf } from './save.ts'
import { Shown } from './shown.ts'
import { type OpenNote, Wanted } from './wanted.ts'

/** No hello for so long: ask over HTTP whether anybody is there. */
const HELLO_WAIT_MS = 1500
/** A blink of the network is not told as offline. */
const BLINK_MS = 1500
/** Nobody known here and nobody answering: asked again after this long. */
const ASK_AGAIN_MS = 3000
/** A line that the server closed for good is tried again after this long. */
const RETRY_MS = 30_000
/** A clock difference below this is the journey's, and a steady clock matters more. */
const SKEW_MIN_MS = 2000

export class Session {
  readonly shown = new Shown()
  readonly presence: Presence
  readonly asks = new Asks()
  readonly #ports: Ports
  #desk: Desk
  #isUp = false
  #isOnline = true
  #isReadOnly = false
  #isRevealed = false
  #isStopped = true
  #keptAt: number | null = null
  #stopBlink: Stop | null = null
  readonly #wanted: Wanted

  constructor(ports: Ports) {
    this.#ports = ports
    this.presence = new Presence(ports.clock)
    this.#wanted = new Wanted(ports)
    this.#desk = this.#newDesk()
  }

  /** Opens the board for whoever this browser acted for last, until the server says who it is. */
  start(): void {
    this.#isStopped = false
    const desk = this.#desk
    const last = this.#ports.last.get()
    // With nobody known, ask first: a socket that is refused tells nothing and fills the console.
    if (last) this.#enter(last)
    else void this.#wonder()
    this.#ports.clock.after(HELLO_WAIT_MS, () => {
      if (desk === this.#desk && !this.#isRevealed) void this.#wonder()
    })
  }

  /** Does what a screen asks for. */
  act(body: OpBody): Acted {
    return this.#desk.act(body)
  }

  /** What would stand against an act, without doing it. */
  wouldRefuse(body: OpBody): readonly Finding[] {
    return this.#desk.wouldRefuse(body)
  }

  /** Takes back one's own last edit; null when there is none. */
  undo(): Acted | null {
    return this.#desk.undo()
  }

  /** Photographs made here; null while nobody is known. */
  get photos(): PhotoQueue | null {
    return this.#desk.photos
  }

  /** The author has seen why this op was refused. */
  dismiss(id: string): void {
    this.#desk.dismiss(id)
  }

  /** Keeps a piece's sheet open until stopped. */
  openSheet(pieceId: string): Stop {
    return this.#wanted.sheet(pieceId, this.#desk)
  }

  /** Opens the note that is typed together on a piece; null while nobody is known. */
  openNote(pieceId: string): OpenNote | null {
    return this.#isRevealed ? this.#wanted.note(pieceId, this.#desk) : null
  }

  /** A fresh id for a record. */
  newId(): string {
    return this.#desk.newId()
  }

  /** The moment as the server's clock has it, in the lab's zone. */
  now(): When {
    return this.#desk.now()
  }

  /** Woken from sleep, back online, shown again: look whether the lines still live. */
  nudge(): void {
    for (const base of this.#desk.homes.all) base.line?.nudge()
    this.#wanted.nudge()
  }

  /** The page may be going: what is only in memory is put on the device. */
  secure(): void {
    this.#desk.secure()
    this.#wanted.secure()
  }

  /** Forgets everything of this person on this device; the caller has ended the session on the server. */
  async signOut(): Promise<void> {
    this.#desk.tellSignedOut()
    await this.#clearAway('out', (shelf) => shelf.clear())
  }

  /** The cookie belongs to somebody else now (a PIN was entered, an invitation used): begin again. */
  async changePerson(): Promise<void> {
    await this.#clearAway('opening', (shelf) => shelf.clearCopies())
    this.start()
  }

  /** Ends all lines; the page is going away. */
  stop(): void {
    this.#isStopped = true
    this.#stopBlink?.()
    this.presence.close()
    this.#wanted.closeNotes()
    this.#desk.close()
  }

  #newDesk(): Desk {
    const desk: Desk = new Desk(this.#ports, this.shown, {
      board: {
        hello: (hello) => desk === this.#desk && this.#hello(hello),
        ready: () => {
          if (desk === this.#desk) this.#join()
        },
        message: (message) => {
          if (desk === this.#desk) this.#hear(message)
        },
        down: (isFinal) => {
          if (desk === this.#desk) this.#down(isFinal)
        },
        others: (others) => this.presence.hear(others),
      },
      counted: (keptAt) => {
        if (keptAt !== null) this.#keptAt = keptAt
        this.#mark()
      },
      signedOut: () => void this.#clearAway('out', (shelf) => shelf.clear()),
    })
    return desk
  }

  #enter(identity: Identity): void {
    const desk = this.#desk
    desk.belongTo(identity).then(
      () => {
        if (desk !== this.#desk || this.#isStopped) return
        if (this.#isUp) this.#join()
        this.#mark()
      },
      (error: unknown) => this.#ports.report(error),
    )
  }

  #hello(hello: Extract<ServerMessage, { type: 'hello' }>): boolean {
    if (hello.version !== PROTOCOL_VERSION) {
      this.shown.gate.set('reload')
      return false
    }
    const skew = Date.parse(hello.at) - this.#ports.clock.now()
    this.shown.skewMs.set(Math.abs(skew) < SKEW_MIN_MS ? 0 : skew)
    const identity: Identity = { lab: hello.lab, personId: hello.personId, role: hello.role }
    const mine = this.#desk.identity
    if (mine && !isSameIdentity(mine, identity)) {
      void this.#become(identity)
      return false
    }
    this.#ports.last.set(identity)
    this.#isUp = true
    this.#isReadOnly = false
    this.#setOnline(true)
    // On a first visit the line is open before anybody knew for whom: only the shelf is missing.
    if (!mine) this.#enter(identity)
    this.#reveal()
    return true
  }

  #hear(message: ServerMessage): void {
    switch (message.type) {
      case 'kept':
      case 'refused':
        this.#desk.hear(message)
        return
      case 'answer':
        this.asks.answer(message.ask, message.body, message.done)
        return
      case 'state':
        this.#isReadOnly = message.state === 'read-only'
        // Well again: what the server could not keep meanwhile goes once more.
        if (!this.#isReadOnly) this.#join()
        this.#mark()
        return
      case 'bye':
        if (message.reason === 'signed-out') void this.#clearAway('out', (shelf) => shelf.clearCopies())
        return
      case 'hello':
    }
  }

  #join(): void {
    const { line } = this.#desk.homes.board
    if (!line || !this.#isUp) return
    this.#desk.connect(line)
    this.asks.connect((message) => line.send(message))
    this.presence.connect(line)
    this.#mark()
  }

  #down(isFinal: boolean): void {
    this.#isUp = false
    this.#desk.connect(null)
    this.asks.connect(null)
    this.presence.connect(null)
    if (isFinal || !this.#isRevealed) void this.#wonder()
    this.#stopBlink ??= this.#ports.clock.after(BLINK_MS, () => {
      this.#stopBlink = null
      if (!this.#isUp) this.#setOnline(false)
    })
  }

  /** No hello came: is nobody there, or is nobody signed in? */
  async #wonder(): Promise<void> {
    const desk = this.#desk
    const answer = await this.#ports.askWho()
    if (desk !== this.#desk || this.#isUp || this.#isStopped) return
    if (answer && 'signedOut' in answer) {
      await this.#clearAway('out', (shelf) => shelf.clearCopies())
      return
    }
    const mine = desk.identity
    if (answer && !mine) {
      desk.homes.connect()
      return
    }
    if (!answer && !mine) {
      this.#ports.clock.after(ASK_AGAIN_MS, () => {
        if (desk === this.#desk && !this.#isStopped && !this.#isUp) void this.#wonder()
      })
      return
    }
    if (!mine || (answer && !isSameIdentity(answer.identity, mine))) return
    this.#setOnline(false)
    this.#reveal()
    // A line that was closed for good does not come back by itself; the reason may pass all the same.
    this.#ports.clock.after(RETRY_MS, () => {
      if (desk === this.#desk && !this.#isUp && !this.#isStopped) this.nudge()
    })
  }

  #reveal(): void {
    this.#isRevealed = true
    this.shown.gate.set('in')
    this.#desk.reveal()
    this.#mark()
  }

  async #become(identity: Identity): Promise<void> {
    await this.#clearAway('opening', (shelf) => shelf.clearCopies())
    if (this.#isStopped) return
    this.#ports.last.set(identity)
    this.start()
  }

  /** Takes the desk away with all that lies on it; what was on the device goes as `clear` says. */
  async #clearAway(gate: 'out' | 'opening', clear: (shelf: Shelf) => Promise<void>): Promise<void> {
    const { shelf } = this.#desk
    this.#wanted.closeNotes()
    this.#desk.close()
    this.#stopBlink?.()
    this.#stopBlink = null
    this.asks.connect(null)
    this.asks.clear()
    this.presence.connect(null)
    this.#isUp = false
    this.#isOnline = true
    this.#isReadOnly = false
    this.#isRevealed = false
    this.#keptAt = null
    this.#ports.last.set(null)
    this.#ports.forgetPages()
    this.shown.empty(gate)
    this.#desk = this.#newDesk()
    this.#wanted.moveTo(this.#desk)
    this.#mark()
    if (!shelf) return
    await clear(shelf).catch(this.#ports.report)
    shelf.close()
  }

  #setOnline(isOnline: boolean): void {
    this.#stopBlink?.()
    this.#stopBlink = null
    this.#isOnline = isOnline
    this.#mark()
  }

  #mark(): void {
    const facts = {
      isOpen: this.#isRevealed,
      isOnline: this.#isOnline,
      isReadOnly: this.#isReadOnly,
      count: this.#desk.count,
      keptAt: this.#keptAt,
      heardAt: this.#desk.homes.board.heardAt,
    }
    this.shown.save.set(saveOf(facts, this.shown.save.get()))
  }
}
