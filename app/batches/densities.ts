// What the lab's list knows of the densities of a solution's parts.
import type { Densities } from '#lib/limits'
import type { Records } from '#lib/words'

/** g/ml of resin and solvent; null where the list does not say. */
export function densitiesOf(
  records: Records,
  { materialId, solventId }: { readonly materialId: string; readonly solventId: string | null },
): Densities {
  return {
    resin: records.material.get(materialId)?.densityGMl ?? null,
    solvent: solventId === null ? null : (records.material.get(solventId)?.densityGMl ?? null),
  }
}
