// What lies in the demo lab: four invented localities and forty invented specimens, one line each, written as a
// preparator would list them. Nothing here is or was found anywhere.

import type { Course } from './courses.ts'

/** Localities with their number prefix, their rock, and how it behaves. */
export const sites = {
  VG: { locality: 'Vennick Gully', horizon: 'bed 4, grey silt', hardness: 2, densityKgM3: 2200 },
  TF: { locality: 'Tarrow Flats', horizon: 'upper red mudstone', hardness: 3, densityKgM3: 2350 },
  WK: { locality: 'Wrackstone Cove', horizon: 'lower shale with nodules', hardness: 4, densityKgM3: 2450 },
  NR: { locality: 'Nether Rill quarry', horizon: 'pale limestone, second bench', hardness: 5, densityKgM3: 2550 },
} as const
export type Site = keyof typeof sites

export interface Find {
  readonly site: Site
  /** Years ago it was collected. */
  readonly age: number
  readonly name: string
  readonly course: Course
  /** Length, width, height in metres. */
  readonly size: readonly [number, number, number]
  readonly stage: 'sealed' | 'opened' | 'exposing' | 'joining' | 'stabilised' | 'housed' | 'released'
  readonly ceiling: string
  /** Hours of work as a share of what is usual for the course. */
  readonly share: number
  /** For a begun stage: how much of the stage's work is done, percent. */
  readonly donePct: number
  readonly isPriority?: true
  readonly purpose?: 'research' | 'exhibit' | 'both'
  readonly fragile?: string
  readonly side?: string
}

type Row = readonly [
  string,
  Course,
  readonly [number, number, number],
  Find['stage'],
  string,
  number,
  number,
  (Partial<Find> | undefined)?,
]

const rows: Readonly<Record<`${Site}${number}`, readonly Row[]>> = {
  VG2: [
    [
      'Skull in block',
      'skull',
      [0.42, 0.3, 0.24],
      'exposing',
      'scalpel',
      0.6,
      80,
      { isPriority: true, purpose: 'both', fragile: 'palate edge', side: 'left side and palate' },
    ],
    [
      'Lower jaw with teeth',
      'small',
      [0.34, 0.12, 0.1],
      'exposing',
      'needle',
      1.4,
      70,
      { isPriority: true, fragile: 'tooth tips' },
    ],
    ['Neck, five vertebrae', 'string', [0.62, 0.35, 0.25], 'exposing', 'fine-scribe', 0.7, 45, { purpose: 'exhibit' }],
    ['Shoulder blade', 'long bone', [0.58, 0.3, 0.16], 'joining', 'fine-scribe', 0.6, 40],
    ['Hand in articulation', 'small', [0.28, 0.22, 0.1], 'opened', 'needle', 1.6, 0, { fragile: 'finger tips' }],
  ],
  VG1: [
    ['Ribs, a row of six', 'long bone', [0.9, 0.55, 0.2], 'exposing', 'heavy-scribe', 0.8, 55],
    [
      'Hip, left half',
      'long bone',
      [0.84, 0.6, 0.34],
      'exposing',
      'heavy-scribe',
      0.55,
      45,
      { purpose: 'exhibit', side: 'outer face' },
    ],
    ['Tail end, bone string', 'string', [0.7, 0.2, 0.18], 'stabilised', 'fine-scribe', 0.5, 0],
    ['Foot bones, loose', 'shell', [0.36, 0.3, 0.12], 'sealed', 'scalpel', 0.5, 0],
    ['Belly ribs', 'shell', [0.4, 0.34, 0.1], 'released', 'scalpel', 0.4, 100],
  ],
  TF1: [
    ['Shell, many pieces', 'shell', [0.55, 0.44, 0.22], 'joining', 'scalpel', 1, 55, { purpose: 'both' }],
    ['Thigh bone', 'long bone', [1.1, 0.36, 0.3], 'housed', 'heavy-scribe', 0.9, 60, { purpose: 'exhibit' }],
    [
      'Trackway slab',
      'big slab',
      [1.3, 0.8, 0.14],
      'exposing',
      'fine-scribe',
      0.9,
      35,
      { purpose: 'exhibit', side: 'upper face' },
    ],
    [
      'Small skull, crushed flat',
      'skull',
      [0.16, 0.1, 0.05],
      'exposing',
      'needle',
      0.45,
      50,
      { isPriority: true, fragile: 'everywhere' },
    ],
    ['Armour plates', 'shell', [0.5, 0.4, 0.15], 'exposing', 'fine-scribe', 0.7, 25],
    ['Upper arm bone', 'long bone', [0.46, 0.16, 0.14], 'released', 'heavy-scribe', 0.5, 100],
  ],
  TF3: [
    ['Eggs, a clutch of four', 'small', [0.4, 0.36, 0.18], 'exposing', 'quill', 2.2, 20, { fragile: 'shell films' }],
    [
      'Back with ribs',
      'string',
      [1.3, 0.75, 0.4],
      'exposing',
      'fine-scribe',
      1.3,
      22,
      { purpose: 'exhibit', side: 'right side up' },
    ],
    ['Toe claws', 'small', [0.2, 0.14, 0.08], 'stabilised', 'scalpel', 0.5, 0],
    ['Shin bone', 'long bone', [0.66, 0.2, 0.18], 'opened', 'heavy-scribe', 0.6, 0],
    ['Shell, half buried', 'shell', [0.38, 0.32, 0.2], 'opened', 'scalpel', 0.8, 0],
  ],
  WK1: [
    [
      'Paddle in nodule',
      'slab',
      [0.6, 0.36, 0.16],
      'exposing',
      'abrasion',
      0.6,
      75,
      { purpose: 'both', side: 'upper face' },
    ],
    [
      'Fish, whole',
      'slab',
      [0.44, 0.2, 0.08],
      'exposing',
      'abrasion',
      0.7,
      66,
      { isPriority: true, fragile: 'fin rays' },
    ],
    ['Snout with teeth', 'skull', [0.48, 0.22, 0.18], 'exposing', 'fine-scribe', 0.7, 28],
    ['Crab, paired halves', 'small', [0.14, 0.1, 0.06], 'housed', 'abrasion', 0.6, 40],
    ['Ammonoid with bite marks', 'small', [0.24, 0.22, 0.1], 'stabilised', 'abrasion', 0.7, 0],
  ],
  WK2: [
    [
      'Jaw tip in nodule',
      'small',
      [0.22, 0.14, 0.12],
      'joining',
      'scalpel',
      1,
      30,
      { isPriority: true, fragile: 'a crack across the middle' },
    ],
    ['Backbone in three nodules', 'string', [0.9, 0.3, 0.25], 'exposing', 'fine-scribe', 0.8, 40],
    ['Ring of eye bones', 'small', [0.12, 0.12, 0.05], 'opened', 'needle', 1, 0],
    ['Wood with borings', 'slab', [0.7, 0.24, 0.2], 'housed', 'fine-scribe', 0.3, 70],
    ['Sea lily crowns', 'slab', [0.5, 0.42, 0.09], 'joining', 'abrasion', 0.8, 50, { side: 'upper face' }],
  ],
  NR1: [
    ['Fish in limestone', 'acid block', [0.3, 0.22, 0.1], 'exposing', 'needle', 1, 45],
    ['Scales and jaw in limestone', 'acid block', [0.24, 0.2, 0.12], 'exposing', 'needle', 0.8, 20],
    [
      'Flying reptile, one wing',
      'slab',
      [0.66, 0.4, 0.07],
      'joining',
      'needle',
      1.1,
      35,
      { isPriority: true, fragile: 'wing finger' },
    ],
    ['Lizard, curled', 'small', [0.18, 0.16, 0.06], 'stabilised', 'needle', 1.2, 0, { isPriority: true }],
    ['Turtle, underside', 'shell', [0.48, 0.4, 0.16], 'housed', 'fine-scribe', 0.6, 30, { purpose: 'exhibit' }],
  ],
  NR4: [
    ['Lobster on plate', 'slab', [0.3, 0.2, 0.05], 'released', 'abrasion', 0.4, 100],
    ['Crocodile skull, rear', 'skull', [0.42, 0.36, 0.24], 'joining', 'fine-scribe', 0.6, 45, { purpose: 'exhibit' }],
    ['Block with small bones', 'small', [0.36, 0.3, 0.2], 'sealed', 'needle', 1.2, 0],
    ['Plant plate', 'slab', [0.6, 0.5, 0.06], 'sealed', 'needle', 0.5, 0],
  ],
}

/** All finds, in the order of the list. */
export const finds: readonly Find[] = Object.entries(rows).flatMap(([key, list]) =>
  list.map(([name, course, size, stage, ceiling, share, donePct, more]) => ({
    // The keys are a site's two letters and years of age, by their type.
    site: key.slice(0, 2) as Site,
    age: Number(key.slice(2)),
    name,
    course,
    size,
    stage,
    ceiling,
    share,
    donePct,
    ...more,
  })),
)
