// Why a change of the settings was not kept, beside what was changed.
import { Notice } from '../_parts/controls/index.ts'

/** The sentence, or nothing. */
export function Problem({ say }: { readonly say: string | undefined }) {
  return say === undefined ? null : <Notice kind="error">{say}</Notice>
}
