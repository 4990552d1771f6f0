// Sentences for what the rules find on a day: places and seats, skills, force, air, limits, order.
import { capital, sayAir, sayCount, sayKg, sayMinutes, sayNoise, sayPoints } from '../amounts.ts'
import { sayDate } from '../dates.ts'
import type { Sentences } from './sentence.ts'

export const ruleSentences: Sentences = {
  'two-places': (say, ids) =>
    ids.place
      ? `${say.person(ids.person)} sits at ${say.place(ids.place)} in that shift already.`
      : `${say.person(ids.person)} has a seat in ${say.shift(ids.shift)} already.`,
  'seat-taken': (say, ids, { seats = 0, people = 0 }) =>
    `${say.place(ids.place)} has ${sayCount(seats, 'seat')} and ${people === 1 ? 'one person' : `${sayCount(people, 'person', 'people')}`}. Choose another place.`,
  'piece-elsewhere': (say, ids) =>
    `${say.piece(ids.piece)} is with ${say.person(ids.other)}${ids.at ? ` at ${say.place(ids.at)}` : ''} in ${say.shift(ids.shift)}.`,
  'piece-other-step': (say, ids) =>
    `${say.person(ids.other)} works on another step of ${say.piece(ids.piece)} in ${say.shift(ids.shift)}.`,
  'piece-full': (say, ids, { most = 1 }) =>
    most === 1
      ? `${say.person(ids.other)} has ${say.piece(ids.piece)}. Only one can work on it at a time.`
      : `${say.piece(ids.piece)} takes ${sayCount(most, 'person', 'people')} at once, and that many have it.`,
  'exclusive-taken': (say, ids) =>
    `${say.place(ids.place)} takes one piece at a time, and ${say.piece(ids.other)} is there.`,
  'no-skill': (say, ids, { level = 0 }) =>
    level === 0
      ? `${say.person(ids.person)} is not signed off for ${say.technique(ids.technique)}.`
      : `${say.person(ids.person)} is at level ${level} in ${say.technique(ids.technique)}; it takes level 2 here.`,
  'needs-level-3': (say, ids, { level = 0 }) =>
    `${say.piece(ids.piece)} is delicate or urgent and takes level 3 in ${say.technique(ids.technique)}; ${say.person(ids.person)} has ${level === 0 ? 'none' : `level ${level}`}.`,
  'mentor-missing': (say, ids) =>
    `${say.person(ids.person)} is learning ${say.technique(ids.technique)}. Nobody who mentors it sits near in that shift.`,
  'mentor-away': (say, ids) =>
    `${say.person(ids.person)} is learning ${say.technique(ids.technique)}, and ${say.person(ids.mentor)} is away.`,
  'mentor-full': (say, ids, { learners = 0 }) =>
    `${say.person(ids.mentor)} has ${sayCount(learners, 'learner')} in that shift already, as many as the lab allows.`,
  'above-ceiling': (say, ids) =>
    `${capital(say.technique(ids.technique))} is above the ceiling of ${say.piece(ids.piece)}. A preparator, a test patch and a reason would open it.`,
  'air-short': (say, ids, { airLpm = 0, freeLpm = 0 }) =>
    `${capital(say.technique(ids.technique))} draws ${sayAir(airLpm)}; ${sayAir(freeLpm)} are free in ${say.shift(ids.shift)}.`,
  'vibration-over': (say, ids, { points = 0, limit = 0 }) =>
    `${say.person(ids.person)} would be at ${sayPoints(points, limit)} of vibration that day. The lab's limit rests on the published action value; local codes decide.`,
  'noise-over': (say, ids, { levelDba = 0, limit = 0 }) =>
    `${say.person(ids.person)} would be at ${sayNoise(levelDba)} over that day; the lab's limit is ${sayNoise(limit)}. Local codes decide.`,
  'minutes-over': (say, ids, { minutes = 0, limit = 0 }) =>
    `${say.person(ids.person)} would be at ${say.technique(ids.technique)} for ${sayMinutes(minutes)} that day; the lab's cap is ${sayMinutes(limit)}.`,
  rests: (say, ids) => `${say.person(ids.person)} rests from ${say.technique(ids.technique)} that day.`,
  'check-overdue': (say, ids) =>
    `${say.place(ids.place)} waits for its check before use (${say.check(ids.check)}), so no line-up offers it.`,
  'dust-beside-solvent': (say, ids) =>
    `Stone dust at ${say.place(ids.place)} and open solvent at ${say.place(ids.at)} in ${say.shift(ids.shift)}: they do not go beside each other.`,
  'dust-in-view': (say, ids) =>
    `${capital(say.technique(ids.technique))} gives off stone dust, and visitors look on at ${say.place(ids.place)} without glass between.`,
  'solvent-in-view': (say, ids) =>
    `${capital(say.technique(ids.technique))} gives off solvent vapour, and visitors look on at ${say.place(ids.place)} without glass between.`,
  'dust-with-solvent': (say, ids) =>
    ids.other === ids.person
      ? `This work gives off stone dust and solvent vapour at once; they do not mix at ${say.place(ids.place)}.`
      : `Stone dust and open solvent do not mix at one place: ${say.person(ids.other)} works at ${say.place(ids.place)} in ${say.shift(ids.shift)}.`,
  'vibration-unknown': (say, ids) =>
    `Nobody has entered a vibration figure for ${say.technique(ids.technique)}, so it is not counted.`,
  'noise-unknown': (say, ids) =>
    `Nobody has entered a noise figure for ${say.technique(ids.technique)}, so it is not counted.`,
  'only-added': () =>
    'Records of work and treatment are only added to. A correction is a new entry that names the old.',
  'has-it': (say, ids) => {
    const since = say.clock(ids.since)
    return `${say.person(ids.person)} has ${say.piece(ids.piece)}${ids.place ? ` at ${say.place(ids.place)}` : ''}${since ? ` since ${since}` : ''}.`
  },
  'begun-since': (say, ids) =>
    `${say.person(ids.person)} has begun on ${say.piece(ids.piece)}${ids.place ? ` at ${say.place(ids.place)}` : ''}. Begun work stays.`,
  'claimed-since': (say, ids) => {
    const since = say.clock(ids.since)
    return `${say.person(ids.person)} claimed ${say.piece(ids.piece)}${since ? ` at ${since}` : ''}. Keep it, or ask ${say.person(ids.person)} to give it back.`
  },
  'hold-missed': (say, ids) =>
    `${say.person(ids.person)} is held on ${say.piece(ids.piece)} in ${say.shift(ids.shift)}, and no line-up with it was found in time. Redraw, or let the hold go.`,
  'claim-missed': (say, ids) =>
    `${say.person(ids.person)} claimed ${say.piece(ids.piece)} in ${say.shift(ids.shift)}, and no line-up with it was found in time. Redraw, or let a hold go.`,
  'clock-alone': (say, ids) =>
    `“${say.step(ids.step)}” on ${say.piece(ids.piece)} ends at ${ids.at ?? 'its time'}, and nobody who may do it is free then.`,
  'no-way-there': () => 'No line-up with them there was found.',
  'stays-there': (say, ids) => {
    const why: Readonly<Record<string, string>> = { begun: 'has begun', hold: 'is held', claim: 'claimed it' }
    if (ids.person === undefined)
      return `${say.piece(ids.piece)} needs somebody at its hour in ${say.shift(ids.shift)}.`
    const at = ids.place === undefined ? '' : ` at ${say.place(ids.place)}`
    return `${say.person(ids.person)}${at} would have to make way and ${why[ids.why ?? ''] ?? 'stays'}: ${say.piece(ids.piece)}, ${say.shift(ids.shift)}.`
  },
  'step-waits': (say, ids) => `“${say.step(ids.step)}” waits for “${say.step(ids.before)}” on ${say.piece(ids.piece)}.`,
  'too-few-hands': (say, ids, { people = 0, least = 0 }) =>
    `“${say.step(ids.step)}” on ${say.piece(ids.piece)} takes ${sayCount(least, 'person', 'people')} at once and has ${sayCount(people, 'person', 'people')}.`,
  'place-closed': (say, ids) =>
    `${say.place(ids.place)} is out of use${ids.until ? ` until ${sayDate(ids.until, 'short')}` : ''}.`,
  'place-lacks': (say, ids) =>
    `${say.place(ids.place)} has no ${ids.feature ?? 'such thing'}, and ${say.technique(ids.technique)} needs it.`,
  'place-air-lines': (say, ids, { airLines = 0, wanted = 0 }) =>
    `${say.place(ids.place)} has ${sayCount(airLines, 'air line')}; ${wanted} would be needed.`,
  'piece-tied': (say, ids) =>
    `${say.piece(ids.piece)} cannot be moved${ids.at ? ` from ${say.place(ids.at)}` : ''} for now.`,
  'place-load': (say, ids, { massKg = 0, loadKgMax = 0 }) =>
    `${say.place(ids.place)} bears ${sayKg(loadKgMax)}; ${sayKg(massKg)} would stand on it.`,
  'no-place': (say, ids) => `No place is free that ${say.piece(ids.piece)} could be worked on at.`,
  'not-inducted': (say, ids) =>
    `${say.person(ids.person)} has not been through “${ids.item ?? 'the induction'}” yet. Nobody is put to work before it.`,
  'not-crew': (say, ids) => `${say.person(ids.person)} is not of the crew at present.`,
  'lab-closed': (say, ids) => `The lab is closed on ${say.day(ids.date)}.`,
  'no-shift': (say, ids) => `There is no shift on ${say.day(ids.date)} for ${say.shift(ids.shift)}.`,
  'is-away': (say, ids) => `${say.person(ids.person)} is away in ${say.shift(ids.shift)}.`,
}
