// The files there are, in words. Who may have which is the server's to say; what is not somebody's is not offered here.
import type { Role } from '#lib/words'

export type OutFile = {
  /** As the server calls it. */
  readonly path: string
  readonly word: string
  readonly note: string
}

type Group = { readonly title: string; readonly files: readonly OutFile[] }
type Offer = { readonly title: string; readonly roles: readonly Role[]; readonly files: readonly OutFile[] }

const offers: readonly Offer[] = [
  {
    title: 'Pieces as a spreadsheet',
    roles: ['manager', 'preparator'],
    files: [
      {
        path: 'backlog.csv',
        word: 'The backlog: sealed jackets',
        note: 'On the board and at rest. Comes in again through the Rack, “From a spreadsheet”, as the same jackets.',
      },
      {
        path: 'specimens.csv',
        word: 'Specimens',
        note: 'Numbers, names, stage, shelf, size and mass, for sorting and counting elsewhere.',
      },
    ],
  },
  {
    title: 'For collections and portals',
    roles: ['manager', 'preparator'],
    files: [
      {
        path: 'darwin-core.zip',
        word: 'Darwin Core archive',
        note: 'Every piece in the terms that collections share, with its measures, finding and photographs’ particulars. Nobody of the crew is named in it.',
      },
    ],
  },
  {
    title: 'Safety',
    roles: ['manager', 'preparator', 'volunteer'],
    files: [
      {
        path: 'incidents.csv',
        word: 'Incidents and near misses, as a spreadsheet',
        note: 'What you told yourself; for managers and whoever looks after safety, what everybody told. Private: that it was taken out is noted.',
      },
      {
        path: 'incidents.json',
        word: 'Incidents and near misses, as JSON',
        note: 'The same with every field, for programs.',
      },
    ],
  },
  {
    title: 'The whole lab',
    roles: ['manager'],
    files: [
      {
        path: 'everything.jsonl',
        word: 'Everything, as JSON Lines',
        note: 'Every record with what is private, all that happened, and the notes; with the schemas in it. Another Talus takes it in whole; for the photographs’ files beside it, run “npm run export” where the lab is kept. Keep it as carefully as the lab itself.',
      },
    ],
  },
]

/** What somebody of this role is offered. */
export const outFilesOf = (role: Role): readonly Group[] =>
  offers.filter(({ roles }) => roles.includes(role)).map(({ title, files }) => ({ title, files }))
