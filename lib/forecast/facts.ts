// What is known of a step before it is worked on, as the hours model sees it: the piece's size and ratings, the
// technique, how the group's work is shared among steps, what somebody estimated. Plain values, so that they can be
// kept with a forecast and looked at again when the step is finished.
import type { RecordOf, Records, StepFacts, Technique } from '#lib/words'
import { pertStep } from './pert.ts'

export type Group = Technique['group']

/** Facts of one step; the technique's id as plain text, since none is looked up by it. */
export type Facts = Readonly<Omit<StepFacts, 'techniqueId'>> & { readonly techniqueId: string }

/** Share of its outline that is usually worked on, where nobody has said what is to be exposed. */
const SURFACE_SHARE = 0.8
const SIZE_MAX_CM2 = 1_000_000

/** The facts of the board's steps as they are now, by step id; none for a technique that is not the lab's any more. */
export function factsOf(records: Records): ReadonlyMap<string, StepFacts> {
  const groups = new Map(records.lab.get('lab')?.techniques.map(({ id, group }) => [id as string, group]))
  const shared = new Map<string, number>()
  const keyOf = (step: RecordOf<'step'>) => `${step.pieceId} ${groups.get(step.techniqueId)}`
  for (const step of records.step.values()) {
    if (step.state !== 'dropped') shared.set(keyOf(step), (shared.get(keyOf(step)) ?? 0) + 1)
  }
  const facts = new Map<string, StepFacts>()
  for (const step of records.step.values()) {
    const group = groups.get(step.techniqueId)
    if (group !== undefined) facts.set(step.id, factsFrom(step, group, shared.get(keyOf(step)) ?? 1, records))
  }
  return facts
}

function factsFrom(step: RecordOf<'step'>, group: Group, sharedBy: number, records: Records): StepFacts {
  const specimen = records.specimen.get(step.pieceId)
  const jacket = records.jacket.get(step.pieceId)
  const piece = specimen ?? jacket
  const typed = pertStep(step.hours).mean
  const ratings = specimen?.ratings
  // A step that is begun is about the surface there was then, however much is left by now; or more, when more came out.
  const stated = Math.max(step.begunCm2 ?? 0, ratings?.toExposeCm2 ?? 0)
  const outlineCm2 = piece ? piece.lengthM * piece.widthM * 10_000 * SURFACE_SHARE : 0
  const sizeCm2 = group === 'exposing' && stated > 0 ? stated : outlineCm2
  return {
    group,
    techniqueId: step.techniqueId,
    sizeCm2: sizeCm2 > 0 ? Math.min(sizeCm2, SIZE_MAX_CM2) : null,
    rockHardness: ratings?.rockHardness ?? jacket?.rockHardness ?? null,
    contrast: ratings?.contrast ?? null,
    soundness: ratings?.soundness ?? null,
    breakage: ratings?.breakage ?? null,
    isPriority: specimen?.isPriority ?? false,
    sharedBy: Math.max(1, sharedBy),
    typedH: typed > 0 ? typed : null,
    isUnseen: specimen?.stage === 'sealed' || (specimen === undefined && jacket?.state === 'sealed'),
  }
}
