// The labs of one installation as this process has them: each is opened when somebody first asks for it, whoever asks
// meanwhile waits, and it is closed when nobody has been there for a while. What is at rest costs no memory. One that
// cannot be opened says so under its own name alone.
//
//   (at rest) ──asked for──→ opening ──→ awake ──nobody for `restMs`, or room is wanted──→ closing ──→ (at rest)
//                               └──→ failed ──a moment later──→ (at rest)
import type { LabAtPort } from './http/lab-at-port.ts'
import type { Clock, Log } from './world.ts'

/** What has to be known of a lab here to open it and to let it rest. */
export interface Restful extends Omit<LabAtPort, 'name' | 'isHost' | 'elsewhere' | 'use'> {
  readonly enter: () => Promise<void>
  /** Address of the process that has it; null while it is here, or nowhere. */
  readonly elsewhere: () => string | null
  readonly isReady: () => boolean
  readonly arePhotosWell: () => boolean
  readonly connections: () => number
  readonly close: () => Promise<void>
}

export interface ManyLabsOptions<L extends Restful> {
  readonly has: (name: string) => boolean
  /** Makes a lab of those that there are, not yet opened. */
  readonly make: (name: string) => L
  readonly clock: Clock
  readonly log: Log
  /** A lab without anybody for so long is closed. */
  readonly restMs: number
  /** Labs open at once; beyond them, who has been quiet longest goes to rest early. */
  readonly awakeMax: number
}

export interface ManyLabs<L extends Restful> {
  /** The lab of a name, opened first where it is at rest; null when there is none. Never throws for a lab's own trouble. */
  readonly lab: (name: string) => Promise<LabAtPort | null>
  /** Labs that are open, or being opened. */
  readonly awake: () => readonly L[]
  /** Closes all. */
  readonly close: () => Promise<void>
}

/** One that could not be opened is not tried again for so long, however often it is asked for. */
const FAILED_MS = 5_000
/** Even where room is wanted, nobody is sent to rest between two steps of one visit. */
const QUIET_MS = 5_000

/** A lab that cannot be had just now. */
const shut: LabAtPort = {
  labId: () => '',
  isHost: () => true,
  open: () => null,
  elsewhere: () => null,
  connect: (socket) => socket.close(),
  use: () => () => {},
}

interface Seat<L> {
  readonly lab: L
  readonly entered: Promise<void>
  /** Requests and sockets that are being answered. */
  inHand: number
  lastAsked: number
  hasFailed: boolean
  /** Fulfils when it is closed; null while it is not being closed. */
  closing: Promise<void> | null
  cancel: () => void
}

/** Makes the keeper of them; nothing is opened yet. */
export function manyLabs<L extends Restful>(options: ManyLabsOptions<L>): ManyLabs<L> {
  const { has, make, clock, log, restMs, awakeMax } = options
  const seats = new Map<string, Seat<L>>()
  let isOver = false

  const isQuiet = (seat: Seat<L>, forMs: number): boolean =>
    seat.inHand === 0 &&
    seat.closing === null &&
    clock.now() - seat.lastAsked >= forMs &&
    (seat.hasFailed || seat.lab.connections() === 0)

  /** Closes a lab; whoever asks for it meanwhile waits and has it opened again. */
  function rest(name: string, seat: Seat<L>): Promise<void> {
    seat.cancel()
    seat.closing ??= seat.lab
      .close()
      .catch((error) => log('error', 'a lab could not be closed', { lab: name, error: String(error) }))
      .then(() => {
        if (seats.get(name) === seat) seats.delete(name)
      })
    return seat.closing
  }

  function look(name: string, seat: Seat<L>): void {
    if (seat.closing !== null) return
    if (isQuiet(seat, seat.hasFailed ? FAILED_MS : restMs)) void rest(name, seat)
    else seat.cancel = clock.after(seat.hasFailed ? FAILED_MS : restMs, () => look(name, seat))
  }

  /** Sends the one to rest that was quiet longest; false when everybody is busy. */
  async function makeRoom(): Promise<boolean> {
    const quiet = [...seats]
      .filter(([, seat]) => isQuiet(seat, QUIET_MS))
      .sort(([, a], [, b]) => a.lastAsked - b.lastAsked)[0]
    const closing = quiet ? rest(...quiet) : [...seats.values()].find((seat) => seat.closing !== null)?.closing
    if (!closing) return false
    await closing
    return true
  }

  function wake(name: string): Seat<L> {
    const lab = make(name)
    const seat: Seat<L> = {
      lab,
      entered: lab.enter().catch((error) => {
        seat.hasFailed = true
        // Whoever runs the server can do something about it; whoever asks is told no more than that it is not open.
        log('error', 'a lab could not be opened; the others are not concerned', { lab: name, error: String(error) })
      }),
      inHand: 0,
      lastAsked: clock.now(),
      hasFailed: false,
      closing: null,
      cancel: () => {},
    }
    seats.set(name, seat)
    void seat.entered.then(() => look(name, seat))
    return seat
  }

  async function seatOf(name: string): Promise<Seat<L> | 'none' | 'full'> {
    for (;;) {
      const seat = seats.get(name)
      if (seat && seat.closing === null) return seat
      if (isOver) return 'full'
      if (seat?.closing) {
        await seat.closing
        continue
      }
      if (!has(name)) return 'none'
      if (seats.size < awakeMax) return wake(name)
      if (!(await makeRoom())) {
        log('warn', 'a lab stays at rest: as many as may be are open, and busy', { lab: name, open: seats.size })
        return 'full'
      }
    }
  }

  return {
    async lab(name) {
      const seat = await seatOf(name)
      if (seat === 'none') return null
      if (seat === 'full') return shut
      // Counted at once: it must not go to rest while whoever asked is on the way in.
      seat.inHand++
      await seat.entered
      seat.inHand--
      seat.lastAsked = clock.now()
      const { lab } = seat
      return {
        labId: lab.labId,
        name,
        // The name was looked for among ours: it is one.
        isHost: () => true,
        open: () => (seat.hasFailed || seat.closing ? null : lab.open()),
        elsewhere: lab.elsewhere,
        connect: lab.connect,
        use: () => {
          seat.inHand++
          let isOut = false
          return () => {
            if (isOut) return
            isOut = true
            seat.inHand--
            seat.lastAsked = clock.now()
          }
        },
      }
    },
    awake: () => [...seats.values()].flatMap((seat) => (seat.hasFailed || seat.closing ? [] : [seat.lab])),
    async close() {
      isOver = true
      await Promise.all([...seats].map(([name, seat]) => seat.entered.then(() => rest(name, seat))))
    },
  }
}
