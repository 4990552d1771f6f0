// What the port knows of a lab: enough to let people in and to answer them, and nothing of how it is opened or kept.
import type { WebSocket } from 'ws'
import type { Door } from '../door/index.ts'
import type { Outlets } from '../out/outlets.ts'
import type { PhotoStore } from '../photos/contract.ts'
import type { MayLook } from '../photos/looking.ts'
import type { IsHost } from './address.ts'
import type { Answer, Call } from './api.ts'
import type { Arrival } from './sockets.ts'

/** One lab as the port knows it. */
export interface LabAtPort {
  readonly labId: () => string
  /** What it goes by among others. */
  readonly name?: string
  /** Names under which this lab may be asked for. */
  readonly isHost: IsHost
  /** The present door and calls; null while the lab is not open here. */
  readonly open: () => {
    readonly door: Door
    readonly api: (call: Call) => Promise<Answer>
    readonly mayLook: MayLook
    readonly outlets: Outlets
    /** The calendar that belongs to a secret; null where there is none. */
    readonly calendar: (token: string) => string | null
    readonly photos: PhotoStore
  } | null
  /** Address of the process that has the lab while this one stands by; null while it is here, or nowhere. */
  readonly elsewhere: () => string | null
  /** Takes over a socket that was let in. */
  readonly connect: (socket: WebSocket, arrival: Arrival) => void
  /** Something is being asked of the lab; the function it gives is called when that is over. */
  readonly use: () => () => void
}
