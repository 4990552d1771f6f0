'use client'
// Light, dark, or as the device has it. Kept in a cookie so that the first paint already knows; nothing flashes.
import { useState } from 'react'
import { Check } from '../_parts/controls/index.ts'

export type Theme = 'system' | 'light' | 'dark'

import { THEME_COOKIE } from './theme-cookie.ts'

/** The theme a cookie's value names. */
const themeOf = (value: string | undefined): Theme => (value === 'light' || value === 'dark' ? value : 'system')

/** The switch. */
export function ThemeChoice() {
  const [theme, setTheme] = useState<Theme>(() => themeOf(document.documentElement.dataset.theme))
  const choose = (next: Theme) => {
    setTheme(next)
    if (next === 'system') delete document.documentElement.dataset.theme
    else document.documentElement.dataset.theme = next
    const age = next === 'system' ? 0 : 31_536_000
    // biome-ignore lint/suspicious/noDocumentCookie: the one cookie a page sets itself; the async store is not everywhere
    document.cookie = `${THEME_COOKIE}=${next}; path=/; max-age=${age}; samesite=lax`
  }
  return (
    <fieldset className="flex flex-wrap gap-x-6">
      <legend className="text-small font-firm text-umber">Light</legend>
      {words.map(([value, word]) => (
        <Check key={value} oneOf="theme" label={word} isOn={theme === value} onToggle={() => choose(value)} />
      ))}
    </fieldset>
  )
}

const words: readonly (readonly [Theme, string])[] = [
  ['system', 'As this device'],
  ['light', 'Light'],
  ['dark', 'Dark'],
]
