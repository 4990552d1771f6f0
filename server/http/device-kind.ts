// What sort of device a browser says it runs on, so that people know their devices again in a list; nothing is decided by it.
import type { DeviceKind } from '#lib/words'

/** Null where nothing is said. A tablet that asks for pages made for computers says that it is one. */
export function deviceKindOf(userAgent: string | undefined): DeviceKind | null {
  if (!userAgent) return null
  if (/iPad|Tablet|Android(?!.*Mobi)/i.test(userAgent)) return 'tablet'
  return /Mobi|iPhone/i.test(userAgent) ? 'phone' : 'computer'
}
