// The usual course of work on each sort of find, step by step, and which step waits for which.

/** The course of work a specimen asks for. */
export type Course = 'skull' | 'long bone' | 'slab' | 'big slab' | 'shell' | 'small' | 'string' | 'acid block'

/** Usual steps of each course: technique, what it says on the Sheet, usual hours. */
export const courses: Readonly<Record<Course, readonly (readonly [string, string, number])[]>> = {
  skull: [
    ['stiff-brush', 'Loose rock off the outside', 14],
    ['fine-scribe', 'Rind away from the snout', 46],
    ['needle', 'Skull roof and sutures', 70],
    ['quill', 'Teeth', 16],
    ['consolidating', 'Palate edge and cracks', 5],
    ['joining', 'Cheek pieces', 18],
    ['filling', 'Gaps that must carry', 6],
    ['housing', 'Clamshell', 12],
    ['documentation', 'Photographs and form', 4],
  ],
  'long bone': [
    ['stiff-brush', 'Loose rock off', 12],
    ['heavy-scribe', 'Crust down to a finger above bone', 34],
    ['fine-scribe', 'Last rock, both ends', 42],
    ['consolidating', 'Ends and cracks', 6],
    ['joining', 'Shaft breaks', 16],
    ['filling', 'Gaps in the shaft', 6],
    ['housing', 'Cradle', 14],
    ['documentation', 'Photographs and form', 4],
  ],
  slab: [
    ['brush', 'Clean and look', 6],
    ['fine-scribe', 'Cover off in layers', 28],
    ['abrasion', 'Last film over the surface', 34],
    ['needle', 'Edges of bone under the scope', 36],
    ['consolidating', 'Lifting flakes', 5],
    ['joining', 'Corners of the slab', 8],
    ['housing', 'Tray with rim', 8],
    ['documentation', 'Photographs and form', 4],
  ],
  'big slab': [
    ['brush', 'Clean and look', 8],
    ['fine-scribe', 'Cover off in layers', 52],
    ['scalpel', 'Edges of the prints', 30],
    ['consolidating', 'Lifting flakes', 6],
    ['joining', 'Corners of the slab', 10],
    ['housing', 'Frame on castors', 16],
    ['documentation', 'Photographs and form', 4],
  ],
  shell: [
    ['stiff-brush', 'Earth off, piece by piece', 20],
    ['scalpel', 'Break edges clean', 30],
    ['consolidating', 'Crumbling edges', 7],
    ['joining', 'Pieces together', 64],
    ['filling', 'Gaps that must carry', 10],
    ['housing', 'Padded box', 8],
    ['documentation', 'Plan of pieces and form', 5],
  ],
  small: [
    ['brush', 'Clean and look', 3],
    ['quill', 'Soft rock away', 16],
    ['needle', 'Round the bone under the scope', 38],
    ['consolidating', 'Thin edges', 3],
    ['joining', 'Small pieces back', 6],
    ['housing', 'Box with cut foam', 4],
    ['documentation', 'Photographs and form', 3],
  ],
  string: [
    ['stiff-brush', 'Loose rock off', 14],
    ['fine-scribe', 'Between the spines', 58],
    ['scalpel', 'Joint faces', 34],
    ['consolidating', 'Processes and cracks', 7],
    ['joining', 'Spines back on', 22],
    ['filling', 'Gaps that must carry', 6],
    ['housing', 'Cradle in parts', 18],
    ['documentation', 'Photographs and form', 5],
  ],
  'acid block': [
    ['acid', 'Baths and rinses', 30],
    ['needle', 'Freed bones clean', 34],
    ['consolidating', 'Coats between baths', 10],
    ['housing', 'Tubes and tray', 6],
    ['documentation', 'Photographs and form', 4],
  ],
}

/** Group of work of each technique that a course uses; the order in which a specimen goes through them. */
export const groupOf: Readonly<Record<string, 'opening' | 'exposing' | 'consolidating' | 'joining' | 'housing'>> = {
  turning: 'opening',
  opening: 'opening',
  brush: 'exposing',
  'stiff-brush': 'exposing',
  quill: 'exposing',
  needle: 'exposing',
  scalpel: 'exposing',
  abrasion: 'exposing',
  'fine-scribe': 'exposing',
  'heavy-scribe': 'exposing',
  acid: 'exposing',
  consolidating: 'consolidating',
  joining: 'joining',
  filling: 'joining',
  housing: 'housing',
  documentation: 'housing',
}

/** Which earlier steps the step at `index` waits for: fine work runs side by side once the piece is clean. */
export function waitsFor(techniques: readonly string[], index: number): readonly number[] {
  const before = techniques.slice(0, index)
  const indicesOf = (groups: readonly string[]) =>
    before.flatMap((technique, i) => (groups.includes(groupOf[technique] ?? '') ? [i] : []))
  const technique = techniques[index] ?? ''
  switch (groupOf[technique]) {
    case 'exposing': {
      const coarser = indicesOf(['opening', 'exposing'])
      if (technique === 'quill' || technique === 'scalpel') return coarser.slice(0, 1)
      return coarser.slice(-1)
    }
    case 'consolidating':
      return indicesOf(['opening', 'exposing']).slice(0, 1)
    case 'joining':
      return indicesOf(['exposing', 'consolidating', 'joining'])
    case 'housing':
      return technique === 'documentation'
        ? indicesOf(['housing'])
        : indicesOf(['exposing', 'consolidating', 'joining'])
    default:
      return indicesOf(['opening'])
  }
}
