// The invented crew, one entry each. Skills are written as in a lab's own notebook ("needle 4"), half-days as days from
// today ("0m" this morning, "6a" yesterday afternoon), so that whoever opens the demo always finds a full morning.
import type { Draft } from './dice.ts'

/** One person as noted down. */
export interface Sketch {
  readonly name: string
  readonly family: string
  readonly role: Draft<'person'>['role']
  readonly skills: string
  /** Half-days by days from today: m morning, a afternoon, e evening. */
  readonly comes: string
  readonly loves?: readonly string[]
  readonly years: number
}

/** Everybody of the demo lab. */
export const crew: readonly Sketch[] = [
  {
    name: 'Thea',
    family: 'Marlock',
    role: 'manager',
    years: 11,
    comes: '1a 4m',
    skills:
      'brush 4, stiff 4, quill 4, needle 3, scalpel 4, resin 4, joining 3, opening 4, turning 4, housing 3, records 4',
  },
  {
    name: 'Zosia',
    family: 'Brindlow',
    role: 'preparator',
    years: 14,
    comes: '0m 0a 1m 1a 2m 4m 4a 5m 6m 6a',
    loves: ['needle'],
    skills: 'brush 4, stiff 4, quill 4, needle 4, scalpel 4, fine 4, abrasion 3, resin 4, joining 4, fill 3, records 3',
  },
  {
    name: 'Emeka',
    family: 'Vantongeren',
    role: 'preparator',
    years: 7,
    comes: '0m 0a 1m 2m 2a 4m 5m 5a 6m',
    loves: ['heavy-scribe'],
    skills:
      'brush 3, stiff 4, scalpel 3, abrasion 4, fine 4, heavy 4, chisel 4, opening 4, turning 4, resin 3, housing 2',
  },
  {
    name: 'Vigdis',
    family: 'Ostermark',
    role: 'preparator',
    years: 9,
    comes: '0a 0e 1a 2m 2a 4m 5a 6a 6m',
    loves: ['joining', 'acid'],
    skills:
      'brush 4, quill 3, needle 3, scalpel 3, resin 4, joining 4, fill 4, acid 4, casting 4, records 4, housing 3',
  },
  {
    name: 'Lachlan',
    family: 'Drewe',
    role: 'preparator',
    years: 4,
    comes: '0m 0a 1m 1a 2a 4a 5m 6m 6a',
    loves: ['housing'],
    skills:
      'brush 3, stiff 3, scalpel 3, fine 3, heavy 3, opening 4, turning 4, housing 4, fill 3, resin 3, records 3, joining 2',
  },
  {
    name: 'Amara',
    family: 'Solheim',
    role: 'volunteer',
    years: 8,
    comes: '0m 4m 6m',
    loves: ['needle', 'quill'],
    skills: 'brush 4, quill 4, needle 3, scalpel 3, records 2',
  },
  {
    name: 'Benedikt',
    family: 'Ashgrove',
    role: 'volunteer',
    years: 6,
    comes: '0m 0a 5m',
    loves: ['fine-scribe'],
    skills: 'brush 3, stiff 3, fine 3, scalpel 2, opening 2, turning 2',
  },
  {
    name: 'Clio',
    family: 'Pennarth',
    role: 'volunteer',
    years: 5,
    comes: '0m 2m 6a',
    loves: ['joining'],
    skills: 'brush 3, joining 3, fill 2, quill 2, resin 1',
  },
  {
    name: 'Dov',
    family: 'Kirstein-Hale',
    role: 'volunteer',
    years: 3,
    comes: '0m 1m 6m',
    loves: ['housing'],
    skills: 'stiff 3, housing 3, opening 2, turning 2, heavy 2, fine 1',
  },
  {
    name: 'Esme',
    family: 'Tallow',
    role: 'volunteer',
    years: 1.4,
    comes: '0m 5a',
    loves: ['quill'],
    skills: 'brush 2, quill 2, needle 1, scalpel 1',
  },
  {
    name: 'Farid',
    family: 'Lindqvane',
    role: 'volunteer',
    years: 2.5,
    comes: '0m 2a 6a',
    loves: ['abrasion'],
    skills: 'brush 2, abrasion 3, fine 2, scalpel 2',
  },
  {
    name: 'Greta',
    family: 'Moorcombe',
    role: 'volunteer',
    years: 10,
    comes: '0m 0a 4a',
    loves: ['joining', 'filling'],
    skills: 'brush 4, joining 4, fill 3, quill 3, housing 2, records 3',
  },
  {
    name: 'Hamish',
    family: 'Oldacre',
    role: 'volunteer',
    years: 0.3,
    comes: '0m 6m',
    skills: 'brush 1, stiff 2, records 2',
  },
  {
    name: 'Ilka',
    family: 'Varga-Thorn',
    role: 'volunteer',
    years: 4,
    comes: '0m 1a 5m',
    loves: ['opening'],
    skills: 'stiff 3, opening 3, turning 2, heavy 2, fine 2, brush 3',
  },
  {
    name: 'Jonas',
    family: 'Wetherill',
    role: 'volunteer',
    years: 2,
    comes: '0a 0e 6a',
    loves: ['fine-scribe'],
    skills: 'brush 2, stiff 2, fine 2, heavy 1, scalpel 2',
  },
  {
    name: 'Keziah',
    family: 'Brandreth',
    role: 'volunteer',
    years: 3.5,
    comes: '0a 2m 4m',
    loves: ['scalpel'],
    skills: 'brush 3, quill 3, scalpel 3, needle 2, records 2',
  },
  {
    name: 'Lorcan',
    family: 'Fairweather',
    role: 'volunteer',
    years: 0.7,
    comes: '0a 0e 4e',
    skills: 'brush 2, stiff 2, opening 1, quill 1, records 1',
  },
  {
    name: 'Mirela',
    family: 'Stanhoe',
    role: 'volunteer',
    years: 6.5,
    comes: '0a 1m 6a',
    loves: ['needle'],
    skills: 'brush 4, quill 3, needle 3, scalpel 2, joining 2',
  },
  {
    name: 'Nuno',
    family: 'Castellane',
    role: 'volunteer',
    years: 1,
    comes: '0a 5a',
    loves: ['housing'],
    skills: 'brush 2, housing 2, stiff 2, records 2',
  },
  {
    name: 'Oona',
    family: 'Greyling',
    role: 'volunteer',
    years: 2.2,
    comes: '0e 2m 4e',
    loves: ['quill'],
    skills: 'brush 3, quill 2, joining 2, scalpel 1',
  },
  {
    name: 'Pavel',
    family: 'Hrdlo',
    role: 'volunteer',
    years: 5,
    comes: '0e 1m 6m',
    loves: ['heavy-scribe', 'chisel'],
    skills: 'stiff 3, heavy 3, chisel 2, fine 3, opening 3, turning 3',
  },
  {
    name: 'Rosalind',
    family: 'Quay',
    role: 'volunteer',
    years: 12,
    comes: '1m 2m 5m',
    loves: ['documentation'],
    skills: 'brush 4, quill 4, records 4, fill 2, joining 3',
  },
  {
    name: 'Seraphin',
    family: 'Doyle-Marsh',
    role: 'volunteer',
    years: 1.8,
    comes: '1a 4a 6m',
    skills: 'brush 2, stiff 3, fine 2, opening 2',
  },
  { name: 'Tamsin', family: 'Ellerby', role: 'researcher', years: 3, comes: '', skills: '' },
  { name: 'Ulrich', family: 'Sandmeer', role: 'researcher', years: 5, comes: '', skills: '' },
  { name: 'Wanda', family: 'Corriveau', role: 'researcher', years: 1, comes: '', skills: '' },
]
