// What people of the demo lab write after a shift, by the sort of work.
import type { Draft } from './dice.ts'

type Group = Draft<'lab'>['techniques'][number]['group']

export const phrases: Readonly<Record<Group, readonly string[]>> = {
  opening: [
    'Cap cut along the seam, lifted in two parts. Label inside is dry and readable.',
    'Plaster off to the rim. Bone shows at one end, left covered with damp paper.',
    'Saw stopped a finger above the paper. No rock touched yet.',
  ],
  exposing: [
    'Two more centimetres free along the edge. Rock soft here.',
    'Rock harder towards the middle; went slower. Bone sound.',
    'Cleared the pocket beside the crack. One flake came off, bagged and labelled.',
    'Even progress, surface clean under the lamp. Stopped where colour changes.',
    'Small fragments in the waste sieved and bagged with date.',
    'Contrast poor on this side. Marked the doubtful patch with a paper flag.',
    'Nothing new. Next: the shadow side, lower corner.',
    '',
  ],
  consolidating: [
    'Two thin coats, 5 % in acetone, brushed on. Taken in at once.',
    'Cracks fed drop by drop, 7 % in acetone. Left under cover to dry.',
    'Edge firm now. Third coat not needed.',
  ],
  joining: [
    'Four fits found, two glued, two marked and laid in the tray.',
    'No fit today for the three loose pieces; noted so nobody tries again soon.',
    'Long join set in sand overnight. Do not lift before tomorrow.',
    'Surfaces cleaned with acetone before joining. Clicks into place.',
  ],
  housing: [
    'Foam cut to shape, one layer still to line.',
    'Outline traced, ribs of the cradle cut. Dry fit good.',
    'Labels inside and outside, photographs taken from four sides.',
  ],
  other: ['As agreed.', ''],
}
