// Daily hand-arm vibration, from the vibration total values of the tools and the minutes they ran in the hand.
// ISO 5349-1:2001, equations 2 and 3: A(8) = √(Σ a²·T / 8 h). Action and limit value: Directive 2002/44/EC, Article
// 3(1): 2.5 and 5.0 m/s² A(8). Points: HSE exposure points system, (a / 2.5)² · (T / 8 h) · 100 = 2·a²·T(h).
// Talus shows the figure and never calls it safe: the standard's weighting stops at 1 250 Hz, which several authors
// think understates small percussive tools.
import type { Minutes, Ms2 } from './units.ts'

/** One tool and how long it ran in the hand (not bench time). */
export type ToolUse = { readonly vibrationMs2: Ms2; readonly minutes: Minutes }

/** Exposure action value, m/s² A(8); Directive 2002/44/EC, Article 3(1)(b). */
export const VIBRATION_ACTION_MS2: Ms2 = 2.5
/** Exposure limit value, m/s² A(8); Directive 2002/44/EC, Article 3(1)(a). */
export const VIBRATION_LIMIT_MS2: Ms2 = 5

const REFERENCE_MINUTES: Minutes = 480

/** Exposure points of a day: 100 is the action value, 400 the limit value. They add over tools and times. */
export function vibrationPoints(tools: readonly ToolUse[]): number {
  return tools.reduce((sum, tool) => sum + 2 * tool.vibrationMs2 ** 2 * (tool.minutes / 60), 0)
}

/** A(8) of a day in m/s², and each tool's part of it; the parts add in quadrature. */
export function vibrationA8(tools: readonly ToolUse[]): { readonly a8Ms2: Ms2; readonly partialMs2: Ms2[] } {
  const partialMs2 = tools.map((tool) => tool.vibrationMs2 * Math.sqrt(tool.minutes / REFERENCE_MINUTES))
  return { a8Ms2: Math.sqrt(partialMs2.reduce((sum, part) => sum + part ** 2, 0)), partialMs2 }
}

/** Minutes of one tool alone until A(8) reaches `valueMs2`; null when it never does. May be longer than a day. */
export function minutesTo(valueMs2: Ms2, vibrationMs2: Ms2): Minutes | null {
  return vibrationMs2 > 0 ? REFERENCE_MINUTES * (valueMs2 / vibrationMs2) ** 2 : null
}

/** All daily figures at once, the lists parallel to `tools`. */
export function vibrationDaily(tools: readonly ToolUse[]) {
  return {
    ...vibrationA8(tools),
    points: vibrationPoints(tools),
    minutesToAction: tools.map((tool) => minutesTo(VIBRATION_ACTION_MS2, tool.vibrationMs2)),
    minutesToLimit: tools.map((tool) => minutesTo(VIBRATION_LIMIT_MS2, tool.vibrationMs2)),
  }
}

/** Vibration total value of a tool from its three axes, m/s²: √(ax² + ay² + az²), ISO 5349-1:2001 equation 1. */
export function vibrationTotal(axesMs2: readonly [Ms2, Ms2, Ms2]): Ms2 {
  return Math.hypot(...axesMs2)
}

/**
 * Years of such days until a tenth of a group has had blanched fingers: 31.8·A(8)^−1.06, ISO 5349-1:2001 Annex C,
 * equation C.1. It speaks of groups in the studies behind it, never of one person.
 */
export function yearsToBlanching(a8Ms2: Ms2): number {
  return 31.8 * a8Ms2 ** -1.06
}
