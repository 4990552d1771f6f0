// The ink of words and marks: decided, seen through a proposal, or proposed.
import type { Tone } from '../stone/index.ts'

/** The text colour of a tone. */
export function toneClass(tone: Tone | undefined): string {
  return tone === 'chalk' ? 'text-chalk' : tone === 'faint' ? 'text-faint' : 'text-ink'
}
