// Sentences for what is asked about materials and batches.
import { capital } from '../amounts.ts'
import { sayDate } from '../dates.ts'
import type { Sentences } from './sentence.ts'

export const materialSentences: Sentences = {
  'unknown-material': () => 'That material is not on the lab’s list, or no longer in use.',
  'unknown-solvent': () => 'That is no solvent of the lab’s list.',
  'unknown-batch': () => 'There is no such batch.',
  'material-name-taken': (say, ids) =>
    `${capital(say.material(ids.material))} is on the list already. Change that one.`,
  'material-changed': (say, ids) =>
    `${capital(say.material(ids.material))} stays what it is, for the sake of its batches. Put the new one on the list under a name of its own.`,
  'expires-before': (_say, ids) => `${ids.date ? sayDate(ids.date, 'full') : 'That day'} is before it was made.`,
  'too-strong': () => 'More than 100 % by weight there cannot be.',
  'thinned-other': (say, ids) =>
    `${capital(say.batch(ids.batch))} is another material, or its strength is counted in another way or not known. Thin it in its own convention.`,
  'not-thinner': (say, ids) => `${capital(say.batch(ids.batch))} is not stronger than that.`,
  'batch-expired': (say, ids) =>
    `${capital(say.batch(ids.batch))} ran out on ${ids.date ? sayDate(ids.date, 'full') : 'its day'}. Take another, or say why this one.`,
  'not-for-contact': (say, ids) =>
    `${capital(say.material(ids.material))} is not on the lab’s list for what stays on a piece. Take another, or say why.`,
  'not-for-housing': (say, ids) =>
    `By the lab’s list ${say.material(ids.material)} is neither to touch a piece nor to lie in one box with it. Take another, or say why.`,
  'samples-first': (say, ids) =>
    `Samples of ${say.piece(ids.piece)} are wanted, and none can be clean once it is soaked. Take them first, or say why not.`,
  'samples-unsaid': (say, ids) =>
    `Nobody has said whether samples of ${say.piece(ids.piece)} are wanted, and none can be clean once it is soaked. Say so in its facts, or here why it may be.`,
  'solvent-unsuited': (say, ids) =>
    `By the lab’s list ${say.material(ids.material)} does not go into ${say.material(ids.solvent)}. Take another solvent, or say why this one.`,
  'lot-untested': (say, ids) =>
    `The lot of ${say.material(ids.material)} that was tested is ${ids.lot ?? 'another'}. A new lot asks for a new test; or say why not.`,
}
