// What a jacket may weigh before anybody has weighed it. The true volume lies between the ellipsoid and the box of its
// three measures (geometry), the density between that of loose wet sand and of dense limestone: Telford et al. 1990,
// Applied Geophysics, table 2.1 as quoted in secondary places, wet sedimentary rock 1.61 to 2.93 t/m³; from memory.
import type { Kg, KgM3, Metres, Millimetres, SquareMetres } from './units.ts'

/** Density of the rock around a fossil while nobody knows it, kg/m³: the light and the heavy end for sedimentary rock. */
export const ROCK_KG_M3 = { low: 1610, high: 2930 } as const

/** Pottery plaster, 70 parts of water to 100 by weight, kg/m³: 99 and 69 lb/ft³ in a maker's data sheet. */
const PLASTER_KG_M3 = { wet: 1585.8, dry: 1105.3 } as const

export interface JacketSize {
  readonly lengthM: Metres
  readonly widthM: Metres
  readonly heightM: Metres
}

/**
 * Mass of what is in a jacket from its three measures, in kg: an ellipsoid of light rock to a box of heavy rock; a
 * weighing replaces it. The dry plaster shell comes on top: area of the ellipsoid, thickness, density.
 */
export function jacketMass(
  size: JacketSize,
  density: { readonly low: KgM3; readonly high: KgM3 } = ROCK_KG_M3,
  plasterMm: Millimetres = 0,
): { readonly lowKg: Kg; readonly highKg: Kg; readonly shellKg: Kg } {
  const boxM3 = size.lengthM * size.widthM * size.heightM
  return {
    lowKg: ((boxM3 * Math.PI) / 6) * density.low,
    highKg: boxM3 * density.high,
    shellKg: ellipsoidArea(size) * (plasterMm / 1000) * PLASTER_KG_M3.dry,
  }
}

/**
 * Area of an ellipsoid of these three diameters: 4π·[(aᵖbᵖ + aᵖcᵖ + bᵖcᵖ) / 3]^(1/p) with p = 1.6075 and the half axes
 * (Thomsen's approximation, off by about 1 % at the most; from memory). Exact for a sphere.
 */
export function ellipsoidArea({ lengthM, widthM, heightM }: JacketSize): SquareMetres {
  const p = 1.6075
  const [a, b, c] = [(lengthM / 2) ** p, (widthM / 2) ** p, (heightM / 2) ** p]
  return 4 * Math.PI * ((a * b + a * c + b * c) / 3) ** (1 / p)
}

/** Density of porous rock: (1 − φ)·grain + φ·pore fluid (usual mixture rule; quartz 2650, calcite 2710 kg/m³). */
export function porousDensity(porosity: number, grainKgM3: KgM3, fluidKgM3: KgM3): KgM3 {
  return (1 - porosity) * grainKgM3 + porosity * fluidKgM3
}

/** Water for an amount of plaster, same unit: consistency parts of water to 100 of plaster, by weight. */
export function plasterWater(plaster: Kg, consistency: number): Kg {
  return (plaster * consistency) / 100
}

/** A plaster shell while fresh and when dry, kg; the difference is water that a fresh jacket still carries. */
export function plasterDrying(litres: number): { readonly wetKg: Kg; readonly dryKg: Kg; readonly lossKg: Kg } {
  const [wetKg, dryKg] = [(litres / 1000) * PLASTER_KG_M3.wet, (litres / 1000) * PLASTER_KG_M3.dry]
  return { wetKg, dryKg, lossKg: wetKg - dryKg }
}
