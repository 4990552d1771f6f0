// Units as types. A plain number may go in (records carry the unit in the field's name), but a quantity that already
// has a unit does not pass for another one: minutes handed on as hours, or ppm as mg/m³, do not compile. They cost
// nothing at run time.
declare const unit: unique symbol

type Quantity<Unit extends string> = number & { readonly [unit]?: Unit }

/** Vibration total value or A(8), m/s². */
export type Ms2 = Quantity<'m/s²'>
export type Minutes = Quantity<'min'>
export type Hours = Quantity<'h'>
/** A-weighted sound level, dB. */
export type Dba = Quantity<'dB(A)'>
/** Parts of vapour in a million parts of air, by volume. */
export type Ppm = Quantity<'ppm'>
/** Micrograms in a cubic metre of air. */
export type UgM3 = Quantity<'µg/m³'>
/** Milligrams in a cubic metre of air. */
export type MgM3 = Quantity<'mg/m³'>
export type Kg = Quantity<'kg'>
export type Metres = Quantity<'m'>
export type Millimetres = Quantity<'mm'>
export type SquareMetres = Quantity<'m²'>
export type KgM3 = Quantity<'kg/m³'>
export type Grams = Quantity<'g'>
export type Millilitres = Quantity<'ml'>
export type GramsPerMl = Quantity<'g/ml'>
export type Percent = Quantity<'%'>
