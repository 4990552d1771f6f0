// Who is who: sessions, links, PINs, the demo's choice.
export { type Door, deviceIdOf, type Identity, isStaff, type LabBehind, openDoor } from './door.ts'
export { brakesOf, type PinBrakes, pinBrakes } from './pins.ts'
export type { Session } from './sessions.ts'
export { buckets } from './throttle.ts'
