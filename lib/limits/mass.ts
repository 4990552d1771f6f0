// What a jacket may weigh before anybody has weighed it. The true volume lies between the ellipsoid and the box of its
// three measures (geometry), the density between that of loose wet sand and of dense limestone: Telford et al. 1990,
// Applied Geophysics, table 2.1 as quoted in secondary places, wet sedimentary rock 1.61 to 2.93 t/m³; from memory.

/** Density of the rock around a fossil, kg/m³: the light and the heavy end for sedimentary rock. */
const ROCK_KG_M3 = { low: 1610, high: 2930 } as const

/**
 * Mass of a jacket from its outer measures, in kg: an ellipsoid of light rock to a box of heavy rock.
 * A weighing replaces it.
 */
export function jacketMass(
  size: { readonly lengthM: number; readonly widthM: number; readonly heightM: number },
  density: { readonly low: number; readonly high: number } = ROCK_KG_M3,
): { readonly lowKg: number; readonly highKg: number } {
  const boxM3 = size.lengthM * size.widthM * size.heightM
  return { lowKg: ((boxM3 * Math.PI) / 6) * density.low, highKg: boxM3 * density.high }
}
