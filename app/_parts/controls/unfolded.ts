'use client'
// Which sections somebody has unfolded: whoever works with fragments unfolds them once, not on every Sheet. This device
// remembers it for the visit, as long as the tab is open.
const KEY = 'talus.unfolded'

/** Whether a section was unfolded earlier in this visit. */
export const wasUnfolded = (id: string): boolean => remembered().includes(id)

/** Remembers it, or that it was folded again. */
export function noteUnfolded(id: string, isUnfolded: boolean): void {
  const others = remembered().filter((one) => one !== id)
  try {
    sessionStorage.setItem(KEY, [...others, ...(isUnfolded ? [id] : [])].join(' '))
  } catch {
    // A window that keeps nothing: then each Sheet begins folded.
  }
}

function remembered(): readonly string[] {
  try {
    return (sessionStorage.getItem(KEY) ?? '').split(' ').filter(Boolean)
  } catch {
    return []
  }
}
