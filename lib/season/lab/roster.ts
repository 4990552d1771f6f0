/**
 * People as a half-day sees them. Of a large crew only some are expected at once, and the same ones week after week: each
 * different set is a roster of its own, in which people are numbered from 0, so that who is free and who can are single
 * words in the inner loop.
 */
import { at, atDouble } from '#lib/base'
import { addBit, hasBit, membersOf, wordsFor } from './masks.ts'
import type { LabModel } from './model.ts'

export interface Rosters {
  /** Words of a set of people in a half-day. */
  readonly words: number
  /** The roster of each half-day. */
  readonly slotRoster: Int32Array
  readonly size: Int32Array
  /** The person at each spot of each roster: `words * 32` a roster. */
  readonly people: Int32Array
  /** Of the same spots: what the person's chance is drawn with, and the chance in 2^31 of being away. */
  readonly salt: Int32Array
  readonly away: Int32Array
  /** The spot of each person in each roster; -1 for none. */
  readonly spot: Int32Array
  /** Who can each sort: `words` words a sort and roster; and the same later on (LabModel.canLaterDay). */
  readonly can: Int32Array
  readonly canLater: Int32Array
  /** The sorts that the person at each spot can, as sets of `sortWords` words; and the same later on. */
  readonly sortWords: number
  readonly canSorts: Int32Array
  readonly canSortsLater: Int32Array
}

/** The rosters of a season. */
export function rostersOf(m: LabModel): Rosters {
  const slotRoster = new Int32Array(m.slotCount)
  const known = new Map<string, number>()
  const members: number[][] = []
  for (let slot = 0; slot < m.slotCount; slot++) {
    const from = slot * m.peopleWords
    const key = m.present.subarray(from, from + m.peopleWords).join(' ')
    let roster = known.get(key)
    if (roster === undefined) {
      roster = members.length
      known.set(key, roster)
      members.push(membersOf(m.present, from, m.peopleWords))
    }
    slotRoster[slot] = roster
  }
  const words = wordsFor(Math.max(1, ...members.map(({ length }) => length)))
  const people = new Int32Array(members.length * words * 32).fill(-1)
  const salt = new Int32Array(people.length)
  const away = new Int32Array(people.length)
  const spot = new Int32Array(members.length * m.personIds.length).fill(-1)
  for (const [roster, list] of members.entries()) {
    for (const [index, person] of list.entries()) {
      const place = roster * words * 32 + index
      people[place] = person
      salt[place] = at(m.personSalt, person)
      away[place] = Math.min(0x7fffffff, Math.ceil(atDouble(m.personAway, person) / 2))
      spot[roster * m.personIds.length + person] = index
    }
  }
  return {
    words,
    slotRoster,
    size: Int32Array.from(members, ({ length }) => length),
    people,
    salt,
    away,
    spot,
    can: canOf(m, m.can, members, words),
    canLater: canOf(m, m.canLater, members, words),
    sortWords: wordsFor(m.sorts.length),
    canSorts: sortsOf(m, m.can, people),
    canSortsLater: sortsOf(m, m.canLater, people),
  }
}

function sortsOf(m: LabModel, can: Int32Array, people: Int32Array): Int32Array {
  const sortWords = wordsFor(m.sorts.length)
  const sets = new Int32Array(people.length * sortWords)
  for (const [place, person] of people.entries()) {
    for (let sort = 0; sort < m.sorts.length; sort++) {
      if (person >= 0 && hasBit(can, sort * m.peopleWords, person)) addBit(sets, place * sortWords, sort)
    }
  }
  return sets
}

function canOf(m: LabModel, can: Int32Array, members: readonly (readonly number[])[], words: number): Int32Array {
  const local = new Int32Array(members.length * m.sorts.length * words)
  for (const [roster, list] of members.entries()) {
    for (let sort = 0; sort < m.sorts.length; sort++) {
      for (const [index, person] of list.entries()) {
        if (hasBit(can, sort * m.peopleWords, person)) addBit(local, (roster * m.sorts.length + sort) * words, index)
      }
    }
  }
  return local
}

/** The words of who can a sort in a roster begin here. */
export const canAt = (m: LabModel, rosters: Rosters, roster: number, sort: number): number =>
  (roster * m.sorts.length + sort) * rosters.words

/** The person at a spot of a roster. */
export const personAt = (rosters: Rosters, roster: number, spot: number): number =>
  at(rosters.people, roster * rosters.words * 32 + spot)
