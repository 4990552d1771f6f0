// Crew's own sentences: who is in, how a week looks, where a skill comes from. Tested without a screen.

import { weekdayOf } from '#lib/base'
import type { CrewRow, Presence, SkillView, WeekDay } from '#lib/views'
import { sayAttendance, sayDate, sayLevel, sayList, sayWeekday } from '../_text/index.ts'
import { count, few, names } from '../floor/words.ts'

/** The page's title: "Thursday: thirteen in, Tobi late, Cato away". */
export function sayWhoIsIn(weekday: string, crew: readonly Presence[]): string {
  const of = (state: Presence['state']) => crew.filter((one) => one.state === state)
  const [here, expected, late] = [of('in').length, of('expected').length, of('late')]
  const away = [...of('away'), ...of('left')]
  if (crew.length === 0) return `${weekday}: nobody is expected`
  const parts = [
    here > 0 || expected === 0 ? `${few(here)} in` : '',
    expected > 0 ? `${few(expected)} expected` : '',
    late.length > 0 ? `${names(late.map((one) => one.name))} late` : '',
    away.length > 0 ? `${names(away.map((one) => one.name))} away` : '',
  ]
  return `${weekday}: ${parts.filter(Boolean).join(', ')}`
}

/** What is known of somebody's presence in the shift. */
export function sayPresence(row: Pick<CrewRow, 'presence'>): string {
  const { presence } = row
  if (!presence) return 'not in this shift'
  if (presence.state === 'expected') return 'expected'
  return sayAttendance({ state: presence.state, dueAt: presence.dueAt })
}

const cells = { in: '', extra: ' (extra)', away: ' (away)', free: '' } as const

/** A week for readers: Monday morning and afternoon, Thursday morning (away). */
export function sayWeek(week: readonly WeekDay[]): string {
  const days = week.flatMap((day) => {
    const shifts = day.shifts.filter((one) => one.cell !== 'free')
    if (shifts.length === 0) return []
    const words = shifts.map((one) => `${one.shift.name.toLowerCase()}${cells[one.cell]}`)
    return [`${sayWeekday(weekdayOf(day.date))} ${sayList(words)}`]
  })
  return days.length === 0 ? 'no shifts this week' : days.join(', ')
}

/** Where a level comes from: signed off by Vigdis, 3 March 2025. Empty for none. */
export function saySignOff(view: SkillView, nameOf: (id: string) => string, seenOn = ''): string {
  const { skill } = view
  if (!skill) return ''
  const by = skill.by === null ? 'known from before' : `signed off by ${nameOf(skill.by)}`
  return `${by}${seenOn === '' ? '' : ` on ${seenOn}`}, ${sayDate(skill.on, 'full')}`
}

/** When it runs out; empty for never. */
export function sayExpiry(view: SkillView): string {
  const date = view.skill?.expiresOn ?? null
  if (date === null) return ''
  return view.isOut ? `ran out ${sayDate(date, 'full')}` : `runs out ${sayDate(date, 'full')}`
}

/** A level with its word: 3, delicate and priority pieces. */
export const sayLevelLong = (level: number): string => (level === 0 ? 'none' : `${level}, ${sayLevel(level)}`)

/** Rings in a row for readers: needle 3, scalpel 2; techniques at level 0 go without saying. */
export function saySkills(views: readonly SkillView[]): string {
  const known = views.filter((view) => view.level > 0).map((view) => `${view.technique.short} ${view.level}`)
  return known.length === 0 ? 'no skills signed off yet' : known.join(', ')
}

/** How many ticks a bulk act makes: "All nine expected are in". */
export const sayAllIn = (expected: number): string =>
  expected === 1 ? 'The one expected is in' : `All ${few(expected)} expected are in`

/** Sign-offs that are asked for: "Two ask for a sign-off". */
export const sayAsks = (asks: number): string => `${count(asks)} ${asks === 1 ? 'asks' : 'ask'} for a sign-off`
