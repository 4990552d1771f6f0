// Who is who: sessions, links, PINs, the demo's choice.
export { type Door, type Identity, isStaff, type LabBehind, openDoor } from './door.ts'
export type { Session } from './sessions.ts'
export { buckets } from './throttle.ts'
