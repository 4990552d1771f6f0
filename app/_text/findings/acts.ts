// Sentences for what an act itself asks: whose it is, when it may be done, what must be so before.
import { capital, sayCount, sayHours, sayKg, sayMinutes } from '../amounts.ts'
import { sayRole } from '../states.ts'
import type { Sentence, Sentences } from './sentence.ts'

const gone =
  (what: string): Sentence =>
  () =>
    `${what} is no longer on the board.`

/** The role of a finding as it stands in a sentence; roles come as codes. */
const roleWord = (role: string | undefined): string => {
  const known = ['manager', 'preparator', 'volunteer', 'researcher', 'wall'] as const
  const found = known.find((one) => one === role)
  return found ? sayRole(found).toLowerCase() : 'somebody else'
}

const who: Sentences = {
  role: (_say, ids) =>
    ids.role === 'wall' ? 'The Wall only shows.' : `A ${roleWord(ids.role)} cannot do this. Ask the manager.`,
  'role-changed': (_say, ids) => `Your role has changed: you are a ${roleWord(ids.role)} now.`,
  'not-of-the-lab': () => 'You are not of this lab at present.',
  'not-yours': (say, ids) =>
    ids.piece
      ? `${say.piece(ids.piece)} is not yours today.`
      : `This is ${say.person(ids.person)}’s. Only ${say.person(ids.person)} or the staff can change it.`,
  'own-skill': () => 'A sign-off takes a second pair of eyes. Ask another preparator or the manager.',
  'last-manager': (say, ids) => `${say.person(ids.person)} is the only manager. Make somebody else manager first.`,
  'ask-manager': (say, ids) => `${say.piece(ids.piece)} is spoken for. Ask the manager.`,
  'name-taken': (_say, ids) =>
    `Somebody is called ${ids.name ?? 'that'} already. Add a letter, so that names stay apart.`,
  'skill-twice': (say, ids) => `A technique stands twice among ${say.person(ids.person)}’s skills.`,
  'span-backwards': (say, ids) => `A stretch from ${say.day(ids.date)} ends before it begins.`,
  'item-gone': () => 'This item is not in the induction any more.',
  'path-leads-nowhere': (_say, ids) =>
    `The learning path “${ids.path ?? ''}” names a technique or an item that the lab would not have. Change the path first.`,
  'air-limit-twice': (_say, ids) => `There is such a limit for ${ids.agent ?? 'it'} already. Change that one.`,
  'pattern-twice': (say, ids) => `A shift stands twice in ${say.person(ids.person)}’s week.`,
  'nothing-above': (say, ids) => `You mentor ${say.technique(ids.technique)} already; there is no level above.`,
  'due-without-late': () => 'A time to expect somebody goes with “late” only.',
}

const when: Sentences = {
  past: (say, ids) => `${say.day(ids.date)} is past.`,
  'not-yet': (say, ids) => `${say.day(ids.date)} has not come yet.`,
  'not-today': (say, ids) => `This is for ${say.day(ids.date)}, not for today.`,
  'too-far': (say, ids, { days = 0 }) => `${say.day(ids.date)} is more than ${sayCount(days, 'day')} ahead.`,
  'shift-over': (say, ids) => `${capital(say.shift(ids.shift))} is over.`,
  'not-posted': (say, ids) => `${say.day(ids.date)} is not posted yet.`,
}

const lineUp: Sentences = {
  'as-it-is': () => 'It is so already.',
  'not-claimed': (say, ids) =>
    `${say.person(ids.person)} gave you this seat. Ask ${say.person(ids.person)} to change it.`,
  forbidden: (say, ids) => `A forbid stands against this for ${say.person(ids.person)}.`,
  'swap-taken': (say, ids) => `${say.person(ids.person)} took that turn already.`,
  'own-erasure': () => 'Another manager does this for you.',
  'swap-own': () => 'This turn is yours already.',
  'swap-away': (say, ids) => `${say.person(ids.person)} is not there for the turn you would give.`,
  'forbids-nothing': () => 'Say with which piece, at which place or beside whom.',
}

const room: Sentences = {
  'room-empty': () => 'The room needs a width and a depth.',
  'code-taken': (_say, ids) => `There is a place called ${ids.code ?? 'that'} already.`,
  'place-in-use': (say, ids) =>
    `${say.person(ids.person)} is at ${say.place(ids.place)} on ${say.day(ids.date)}. Move them first.`,
  'piece-lies-here': (say, ids) => `${say.piece(ids.piece)} lies at ${say.place(ids.place)}. Shelve it first.`,
  'shift-span': (say, ids) => `${capital(say.shift(ids.shift))} ends before it begins.`,
  'shifts-overlap': (say, ids) => `${capital(say.shift(ids.shift))} and ${say.shift(ids.other)} overlap.`,
  'technique-twice': () => 'A technique stands twice in the list.',
  'technique-in-use': (say, ids) =>
    `${capital(say.technique(ids.technique))} is used by ${say.piece(ids.piece)} and cannot be taken off the list.`,
}

const pieces: Sentences = {
  'number-taken': (_say, ids) => `${ids.number ?? 'That number'} is on the board already.`,
  'mass-order': (_say, _ids, { lowKg = 0, highKg = 0 }) =>
    `The mass goes from ${sayKg(lowKg)} to ${sayKg(highKg)}: the lower figure comes first.`,
  'tied-nowhere': (say, ids) => `${say.piece(ids.piece)} cannot be tied while it lies at no place.`,
  'piece-in-use': (say, ids) => `${say.person(ids.person)} works on ${say.piece(ids.piece)} on ${say.day(ids.date)}.`,
  'still-worked': (say, ids) => `${say.person(ids.person)} is at work on ${say.piece(ids.piece)}.`,
  'has-due': (say, ids) => `${say.piece(ids.piece)} has a date, ${say.day(ids.date)}. End or drop the date first.`,
  'jacket-sealed': (say, ids) => `${say.piece(ids.piece)} is still sealed.`,
  'jacket-opened': (say, ids) => `${say.piece(ids.piece)} is opened already.`,
  'jacket-empty': (say, ids) => `${say.piece(ids.piece)} is empty.`,
  'not-on-ladder': (say, ids) =>
    `${capital(say.technique(ids.technique))} is apart from the ladder of force, so it cannot be a ceiling.`,
  'not-above': (say, ids) =>
    `${capital(say.technique(ids.technique))} is within the ceiling of ${say.piece(ids.piece)}; nothing needs opening.`,
  ended: (say, ids) => `That escalation on ${say.piece(ids.piece)} has ended already.`,
  answered: (say, ids) => {
    const since = say.clock(ids.since)
    return `${say.person(ids.person)} answered this${since ? ` at ${since}` : ''}.`
  },
  'due-asked': (say, ids) => `The date of ${say.piece(ids.piece)} is asked for and not accepted yet.`,
  'due-accepted': (say, ids) => `The date of ${say.piece(ids.piece)} is accepted already.`,
  'due-declined': (say, ids) => `The date of ${say.piece(ids.piece)} was declined.`,
  'due-met': (say, ids) => `The date of ${say.piece(ids.piece)} is met already.`,
  'due-dropped': (say, ids) => `The date of ${say.piece(ids.piece)} was dropped.`,
  'empty-text': () => 'There is nothing written yet.',
  corrected: () => 'This was corrected since. Correct the newer one.',
  'too-many': (say, ids, { most = 0 }) =>
    ids.person
      ? `${say.person(ids.person)} has as many of these as fit.`
      : `${say.piece(ids.piece)} has ${most > 0 ? sayCount(most, 'step') : 'as many of these as fit'} already.`,
  'id-taken': () => 'This is on the board already.',
}

const joins: Sentences = {
  'pair-order': () => 'A pair is two different fragments, the lower number first.',
  'fragment-taken': (_say, ids) =>
    `Fragment ${ids.number ?? ''} is on the tray already. Give the new one another number, or measure the old one again.`,
  'not-joined': () => 'These two are not joined, so there is nothing to take apart.',
  'no-fit': () => 'These two are not known to fit. Say first that they do.',
  'no-adhesive': () => 'Say which adhesive holds this join.',
}

const steps: Sentences = {
  'step-waiting': (say, ids) => `${say.stepOn(ids.step)} is still waiting.`,
  'step-begun': (say, ids) => `${say.stepOn(ids.step)} is begun; another technique is another step.`,
  'step-done': (say, ids) => `${say.stepOn(ids.step)} is done.`,
  'step-dropped': (say, ids) => `${say.stepOn(ids.step)} was dropped.`,
  'step-open': (say, ids) => `${say.stepOn(ids.step)} is open already.`,
  'step-assigned': (say, ids) =>
    `${say.person(ids.person)} is to work on ${say.stepOn(ids.step)}. Free that seat first.`,
  'step-not-new': () => 'A new step begins with nothing done.',
  'step-of-other': () => 'That step belongs to another piece.',
  'steps-circle': (say, ids) => `${say.stepOn(ids.step)} would wait for itself.`,
  'hours-order': (_say, _ids, { lowH = 0, likelyH = 0, highH = 0 }) =>
    `The hours are ${sayHours(lowH)}, ${sayHours(likelyH)}, ${sayHours(highH)}: low, likely and high go upwards.`,
  'people-order': () => 'The fewest people come before the most.',
}

const work: Sentences = {
  'work-running': (say, ids) => `You are at work on ${say.piece(ids.piece)}. Pause or finish there first.`,
  'work-paused': (say, ids) => `The work on ${say.piece(ids.piece)} is paused.`,
  'work-finished': (say, ids) => `The work on ${say.piece(ids.piece)} is finished.`,
  'more-than-bench': (_say, _ids, { minutes = 0 }) =>
    `The tool cannot have run longer than the ${sayMinutes(minutes)} at the bench.`,
}

const unknown: Sentences = {
  'unknown-fragment': (_say, ids) => `There is no fragment ${ids.fragment ?? ''} on the tray.`,
  'unknown-check': gone('That check'),
  'not-safety': () => 'Only the manager or whoever looks after safety may do that.',
  'unknown-lab': () => 'The lab has no settings yet.',
  'unknown-person': gone('That person'),
  'unknown-place': gone('That place'),
  'unknown-piece': gone('That piece'),
  'unknown-jacket': gone('That jacket'),
  'unknown-step': gone('That step'),
  'unknown-shift': gone('That shift'),
  'unknown-technique': () => 'That technique is not on the lab’s list.',
  'unknown-due': gone('That date'),
  'unknown-escalation': gone('That escalation'),
  'unknown-question': gone('That question'),
  'unknown-ask': gone('That question for sign-off'),
  'unknown-assignment': gone('That seat'),
  'unknown-work': gone('That work'),
  'unknown-reseat': gone('That change'),
  'unknown-swap': gone('That offer'),
  'unknown-clock': gone('That clock'),
  'clock-backwards': () => 'It would end before it began.',
  'clock-next': (say, ids) =>
    `Something comes after it on ${say.piece(ids.piece)}: say when that ends, or that nothing does.`,
  'clock-runs': (say, ids) =>
    `Something runs on ${say.piece(ids.piece)} until ${say.day(ids.date)}, ${ids.time ?? ''}. See to its end first.`,
  'clock-untended': (say, ids) => {
    const near = [
      ids.before === undefined ? '' : `until ${say.day(ids.beforeDate)}, ${ids.before}`,
      ids.after === undefined ? '' : `from ${say.day(ids.afterDate)}, ${ids.after}`,
    ].filter((one) => one !== '')
    const who =
      near.length === 0 ? 'Nobody is for two weeks' : `Somebody is ${near.join(', and again ')}: let it end then`
    return `Nobody who may see to it is expected on ${say.day(ids.date)} at ${ids.time ?? 'that time'}. ${who}, or say why it may end alone.`
  },
  'unknown-hold': gone('That hold'),
  'unknown-forbid': gone('That forbid'),
  'unknown-entry': gone('That entry'),
  'unknown-log': gone('That log'),
  'unknown-stroke': gone('That stroke'),
  'one-ground': () => 'A stroke is drawn on one photograph, or on the paper of one view.',
  'unknown-photo': gone('That photograph'),
  'photo-there': (say, ids) => `This photograph is on the Sheet of ${say.piece(ids.piece)} already. It is kept once.`,
  'unknown-resting': () => 'That piece is not in the archive.',
}

const custody: Sentences = {
  'rack-over': (say, ids, { lowKg = 0, ratedKg = 0, standsKg = 0, pieceKg = 0 }) =>
    `${capital(ids.rack ?? 'that rack')} is rated for ${sayKg(ratedKg)}. With ${sayKg(standsKg)} on it and ${sayKg(pieceKg)} of ${say.piece(ids.piece)}, ${sayKg(lowKg)} at the least would stand there. Choose another shelf.`,
  'rack-perhaps-over': (say, ids, { highKg = 0, ratedKg = 0, standsKg = 0, pieceKg = 0 }) =>
    `${capital(ids.rack ?? 'that rack')} is rated for ${sayKg(ratedKg)}. With ${sayKg(standsKg)} on it and up to ${sayKg(pieceKg)} of ${say.piece(ids.piece)}, as much as ${sayKg(highKg)} could stand there. Weigh it, choose another shelf, or say why it may stand there.`,
  'rack-name-taken': (_say, ids) => `${capital(ids.rack ?? 'that rack')} has a rating already. Change that one.`,
  'unknown-rack': gone('That rating'),
  'assess-at-work': (say, ids) =>
    `${say.person(ids.person)} is at work on a turn that this would make unlawful (${say.piece(ids.piece)}). Have it paused or finished first.`,
  'related-to-itself': (say, ids) => `${say.piece(ids.piece)} stands twice in this. Name another piece.`,
  'related-already': (say, ids) =>
    `${say.piece(ids.piece)} and ${say.piece(ids.other)} are related in this way already.`,
  'counterpart-of-two': () => 'Part and counterpart are two pieces.',
  'relation-ended': (say, ids) => `That relation of ${say.piece(ids.piece)} has ended already.`,
  'unknown-relation': gone('That relation'),
  'housed-lighter': (say, ids, { massKg = 0, aloneKg = 0 }) =>
    `${say.piece(ids.piece)} alone is ${sayKg(aloneKg)}; with its housing it cannot be ${sayKg(massKg)}.`,
  'hand-field-jacket': (say, ids) =>
    `${say.piece(ids.piece)} is a field jacket. A field jacket does not go into a collection: make a specimen of what is in it, and house that.`,
  'hand-step-open': (say, ids) => `“${say.step(ids.step)}” is still open. Finish it or drop it.`,
  'hand-purpose': () => 'Nobody has said that the purpose is met.',
  'hand-condition': () => 'Its condition is not stated.',
  'hand-labels': () => 'Not every piece of it is said to have its label.',
  'hand-photographs': () => 'Nobody has said where its photographs are.',
  'hand-housing': (say, ids) => `${say.piece(ids.piece)} has no housing yet.`,
  'hand-housing-weak': (_say, _ids, { bearsKg = 0, massKg = 0 }) =>
    `The housing was made for ${sayKg(bearsKg)} and would carry ${sayKg(massKg)}.`,
  'hand-record': (say, ids) => `Nothing is in the treatment record of ${say.piece(ids.piece)}.`,
  'hand-assessment': (say, ids) => `${say.piece(ids.piece)} was never assessed.`,
  'hand-question': (say, ids) => `A question on ${say.piece(ids.piece)} has no answer yet.`,
  'hand-catalogue': (say, ids) => `${say.piece(ids.piece)} has no catalogue number; a collection asks for one.`,
  'hand-until': () => 'A loan needs the day on which it ends.',
  'hand-manager': () => 'Only a manager may sign although something is missing.',
}

export const actSentences: Sentences = {
  ...custody,
  ...who,
  ...when,
  ...lineUp,
  ...room,
  ...pieces,
  ...joins,
  ...steps,
  ...work,
  ...unknown,
}
