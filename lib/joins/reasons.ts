// Why a pair is worth trying, as codes with what was measured: the screen makes the sentence.
import type { BreakEdge } from '#lib/words'
import type { Candidate } from './advise.ts'
import type { Study } from './study.ts'

export type TryReason =
  | { readonly kind: 'thickness'; readonly mm: readonly [number, number] }
  | { readonly kind: 'length'; readonly mm: readonly [number, number] }
  | { readonly kind: 'profile'; readonly profiles: readonly [BreakEdge['profile'], BreakEdge['profile']] }
  | { readonly kind: 'texture' }
  | { readonly kind: 'shade' }
  | { readonly kind: 'surface'; readonly surface: string }

/** Within so many of the usual spreads two sides are called alike. */
const ALIKE = 1.5

/** What speaks for the pair, plainest first; empty when it is only next because others are settled. */
export function reasonsFor({ fragments, spreads }: Study, { pair, edges }: Candidate): readonly TryReason[] {
  const [a, b] = pair.map((number) => fragments.find((one) => one.number === number))
  if (!a || !b) return []
  const [edgeA, edgeB] = [a.edges[edges[0]], b.edges[edges[1]]]
  const reasons: TryReason[] = []
  const isAlike = (one: number, other: number, spread: number) => Math.abs(Math.log(one / other)) < ALIKE * spread
  const [atA, atB] = [edgeA?.thicknessMm, edgeB?.thicknessMm]
  if (atA && atB) {
    if (isAlike(atA, atB, spreads.thickness)) reasons.push({ kind: 'thickness', mm: [atA, atB] })
  } else if (a.thicknessMm && b.thicknessMm && isAlike(a.thicknessMm, b.thicknessMm, spreads.middle))
    reasons.push({ kind: 'thickness', mm: [a.thicknessMm, b.thicknessMm] })
  if (edgeA && edgeB) {
    if (isAlike(edgeA.lengthMm, edgeB.lengthMm, spreads.length))
      reasons.push({ kind: 'length', mm: [edgeA.lengthMm, edgeB.lengthMm] })
    const shapes = [edgeA.profile, edgeB.profile] as const
    if (isMeeting(...shapes)) reasons.push({ kind: 'profile', profiles: shapes })
  }
  if (a.surface && a.surface === b.surface && a.surface !== 'none left')
    reasons.push({ kind: 'surface', surface: a.surface })
  if (a.texture !== null && a.texture === b.texture) reasons.push({ kind: 'texture' })
  if (a.shade !== null && a.shade === b.shade) reasons.push({ kind: 'shade' })
  return reasons
}

/** A bow out meets a bow in; the others meet their like; what is straight or worn says nothing worth telling. */
function isMeeting(one: BreakEdge['profile'], other: BreakEdge['profile']): boolean {
  if (one === 'wavy' || one === 'stepped') return one === other
  return (one === 'bowed out' && other === 'bowed in') || (one === 'bowed in' && other === 'bowed out')
}
