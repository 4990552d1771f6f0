// A form as text, and back: whatever lies in the device's store, a form comes of it.

/** The fields of a form as it lies in the device's store; none where that is no form. */
export function keptFields(text: string): Readonly<Record<string, unknown>> {
  if (text === '') return {}
  try {
    const value: unknown = JSON.parse(text)
    return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {}
  } catch {
    return {}
  }
}

/** The blank form with those of the kept fields that fit it. */
export function fitting<T extends object>(blank: T, kept: Readonly<Record<string, unknown>>): T {
  const fits = Object.entries(blank).flatMap(([key, value]) => {
    const own = kept[key]
    if (own === undefined || Array.isArray(own) !== Array.isArray(value)) return []
    // A number that is not given yet is undefined in the blank form.
    return typeof own === typeof value || (value === undefined && typeof own === 'number') ? [[key, own] as const] : []
  })
  return { ...blank, ...Object.fromEntries(fits) }
}
