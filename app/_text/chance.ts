// A chance in words. Nothing is ever certain: the ends are "hardly" and "as good as sure".

/** Tenths for the row of ten dots: 0 to 10. */
export function tenthsOf(chance: number): number {
  const tenths = Math.round(Math.min(1, Math.max(0, chance)) * 10)
  // Ten full dots and none at all are kept for what is beyond 97 % and below 3 %.
  if (tenths === 10 && chance < 0.97) return 9
  if (tenths === 0 && chance > 0.03) return 1
  return tenths
}

/** 6 in 10; hardly; as good as sure. */
export function sayChance(chance: number): string {
  const tenths = tenthsOf(chance)
  return tenths === 0 ? 'hardly' : tenths === 10 ? 'as good as sure' : `${tenths} in 10`
}

/** The sentence beside a date: 6 in 10 to be ready by 2 May. `date` is already in words. */
export function sayReady(chance: number, date: string): string {
  const tenths = tenthsOf(chance)
  if (tenths === 0) return `Hardly ready by ${date}.`
  if (tenths === 10) return `As good as sure to be ready by ${date}.`
  return `${tenths} in 10 to be ready by ${date}.`
}
