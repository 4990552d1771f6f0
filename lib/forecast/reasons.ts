// Why a forecast is what it is: the facts that move it most, each as a factor on hours beside a usual step of the same
// kind. Taken from the model's own terms, so that what is said is what was computed.
import type { Facts } from './facts.ts'
import { type HoursModel, type LogHours, logHoursOf } from './model.ts'

/** One reason. `factor` 1.5 is half as long again, 0.8 a fifth less. */
interface Reason {
  readonly fact:
    | 'size'
    | 'rockHardness'
    | 'contrast'
    | 'soundness'
    | 'breakage'
    | 'priority'
    | 'shared'
    | 'technique'
    | 'typed'
    | 'piece'
    | 'hands'
    | 'unseen'
  readonly factor: number
}

/** Smaller differences than this are not worth a sentence. */
const LEAST = Math.log(1.06)

/**
 * Reasons of one forecast, the strongest first: what each fact does beside the same step with that fact in the middle of
 * its scale (surface: of a hand's length; technique: none known; estimate: what the facts alone say). `whole` is the
 * forecast as given, for what lies in the piece and in the hands. `unseen` has the factor of the window's upper end.
 */
export function reasonsOf(model: HoursModel, facts: Facts, whole: LogHours | null = null): readonly Reason[] {
  const own = logHoursOf(model, facts)
  const without = (differs: Partial<Facts>) => own.mean - logHoursOf(model, { ...facts, ...differs }).mean
  const spread = ({ shared, own: alone }: LogHours) => 1.2816 * Math.sqrt(shared + alone)
  const found: readonly (readonly [Reason['fact'], number])[] = [
    ['size', without({ sizeCm2: null })],
    ['rockHardness', without({ rockHardness: null })],
    ['contrast', without({ contrast: null })],
    ['soundness', without({ soundness: null })],
    ['breakage', without({ breakage: null })],
    ['priority', without({ isPriority: false })],
    ['shared', without({ sharedBy: 1 })],
    ['technique', without({ techniqueId: '' })],
    ['typed', without({ typedH: null })],
    ['piece', whole?.piece ?? 0],
    ['hands', whole?.hands ?? 0],
    ['unseen', facts.isUnseen ? spread(own) - spread(logHoursOf(model, { ...facts, isUnseen: false })) : 0],
  ]
  return found
    .filter(([, moved]) => Math.abs(moved) >= LEAST)
    .toSorted((a, b) => Math.abs(b[1]) - Math.abs(a[1]))
    .map(([fact, moved]) => ({ fact, factor: Math.exp(moved) }))
}
