/**
 * Invented day problems from a seed, for tests and benches: a room of microscope benches, air stations, bays, tanks
 * and tables; people with uneven skills who come for half a day; pieces of which a few are dated, some heavy, some
 * delicate. `everyRule` days are small and tight, so that each rule binds somewhere.
 */
import { type Random, seededRandom } from '#lib/base'
import { type Problem, type ProblemInput, problemSchema } from '#lib/lineup'

export interface DaySize {
  readonly people: number
  readonly shifts: number
  readonly pieces: number
  readonly places: number
}

type In<Key extends keyof ProblemInput> =
  NonNullable<ProblemInput[Key]> extends readonly (infer Entry)[] ? Entry : never

const LADDER = ['brush', 'stiffBrush', 'quill', 'needle', 'scalpel', 'abrasion', 'fineScribe', 'heavyScribe', 'chisel']
const OTHER = ['consolidating', 'joining', 'gapFilling', 'acid', 'casting', 'opening', 'turning', 'housing', 'records']
const AIR: Readonly<Record<string, number>> = { abrasion: 30, fineScribe: 40, heavyScribe: 90 }
const SHAKE: Readonly<Record<string, number>> = { fineScribe: 18, heavyScribe: 110, chisel: 60 }
/** What techniques give off; on tight days alone, so that the days of the benches stay as they were measured. */
const DUSTY = ['stiffBrush', 'abrasion', 'fineScribe', 'heavyScribe', 'chisel', 'opening']
const WET = ['consolidating', 'joining', 'gapFilling', 'casting', 'scalpel']
const NOISE: Readonly<Record<string, number>> = { abrasion: 8, fineScribe: 12, heavyScribe: 40, chisel: 30 }

/** A day of a lab of this size, everything in its usual measure. */
export function aDay(size: DaySize, seed: number): Problem {
  const random = seededRandom(seed)
  return problemSchema.parse(input(size, random, false))
}

/** A small day on which every rule binds somewhere: holds, claims, forbids, clocks, caps, closed places. */
export function aTightDay(size: DaySize, seed: number): Problem {
  const random = seededRandom(seed)
  return problemSchema.parse(input(size, random, true))
}

function input(size: DaySize, random: Random, isTight: boolean): ProblemInput {
  const chance = (percent: number): boolean => random.below(100) < percent
  const between = (low: number, high: number): number => low + random.below(high - low + 1)
  const shifts = Array.from({ length: size.shifts }, (_, s): In<'shifts'> => {
    const start = 570 + s * 210
    const air = isTight ? between(0, 3) * 40 : Math.round(size.people * 9)
    return { id: `s${s}`, start, end: start + 180, airLpm: air }
  })
  const places = Array.from({ length: size.places }, (_, l) => aPlace(l, size, random, isTight))
  const people = Array.from({ length: size.people }, (_, p): In<'people'> => {
    const skill = random.below(100)
    const levels: Record<string, number> = {}
    for (const technique of [...LADDER, ...OTHER]) {
      const base = skill < 20 ? 4 : skill < 50 ? 3 : skill < 80 ? 2 : 1
      levels[technique] = Math.max(0, Math.min(4, base - random.below(skill < 20 ? 2 : 3)))
    }
    const comes = shifts.filter(() => chance(isTight ? 75 : 85))
    return {
      id: `p${p}`,
      levels,
      presence: comes.map((shift) => ({
        shift: shift.id,
        from: chance(10) ? shift.start + between(0, 8) * 15 : shift.start - 5,
        to: chance(10) ? shift.end - between(0, 40) : shift.end + 5,
      })),
      vibrationPointsLeft: isTight ? between(0, 120) : between(60, 100),
      noisePointsLeft: isTight ? between(0, 60) : 100,
      classMinutesLeft: chance(50) ? { scope: between(0, 300) } : {},
      // Every third follows a path; not by the dice, so that days stay as they were drawn.
      learnsNext: p % 3 === 0 ? (LADDER[(p * 2) % LADDER.length] ?? null) : null,
      loves: chance(60) ? [pick(random, [...LADDER, ...OTHER]), `k${random.below(size.pieces)}`] : [],
      goodSharePercent: between(20, 80),
    }
  })
  const pieces = Array.from({ length: size.pieces }, (_, k) => aPiece(k, size, random, isTight))
  const day: ProblemInput = { people, shifts, places, pieces }
  return isTight ? { ...day, ...orders(day, random), learnersPerMentorMax: between(0, 2) } : day
}

function aPlace(l: number, size: DaySize, random: Random, isTight: boolean): In<'places'> {
  const kind = pick(random, ['scope', 'scope', 'air', 'air', 'bay', 'table', 'table', 'hood', 'housing'])
  const features: Record<string, readonly string[]> = {
    scope: ['scope', 'bench'],
    air: ['bench', 'extraction'],
    bay: ['extraction', 'hoist', 'bench'],
    table: ['bench'],
    hood: ['hood', 'extraction', 'bench'],
    housing: ['bench', 'housing'],
  }
  const isSmall = kind === 'scope' || kind === 'hood'
  return {
    id: `l${l}`,
    kind,
    features: [...(features[kind] ?? [])],
    seats: isSmall ? 1 : kind === 'bay' ? 4 : 1 + random.below(3),
    airLines: kind === 'air' || kind === 'bay' ? 1 + random.below(2) : kind === 'scope' ? 1 : 0,
    loadKgMax: kind === 'bay' ? null : isSmall ? 15 : 40 + random.below(80),
    lengthCmMax: kind === 'bay' ? null : isSmall ? 60 : 120,
    neighbours: l + 1 < size.places ? [`l${l + 1}`] : [],
    isExclusive: kind === 'scope',
    closed: isTight && random.below(100) < 15 ? [`s${random.below(size.shifts)}`] : [],
    isCheckOverdue: random.below(100) < (isTight ? 8 : 2),
    keepsIn: kind === 'hood' ? ['solvent'] : [],
    isInView: isTight && l % 4 === 2,
  }
}

function aPiece(k: number, size: DaySize, random: Random, isTight: boolean): In<'pieces'> {
  const chance = (percent: number): boolean => random.below(100) < percent
  const isJacket = chance(30)
  const massKg = isJacket ? 10 + random.below(220) : 1 + random.below(14)
  const ceiling = random.below(LADDER.length)
  const steps = Array.from({ length: 1 + random.below(3) }, (_, j) => aStep(j, ceiling, isJacket, random, isTight))
  const at = chance(60) ? `l${random.below(size.places)}` : null
  const hands = Array.from({ length: random.below(3) }, () => ({
    person: `p${random.below(size.people)}`,
    turns: 1 + random.below(5),
  }))
  return {
    id: `k${k}`,
    kind: isJacket ? 'jacket' : 'specimen',
    ceiling,
    massKg,
    lengthCm: isJacket ? 40 + random.below(140) : 5 + random.below(60),
    tiedTo: at !== null && chance(isTight ? 15 : 5) ? at : null,
    at,
    urgencyPercent: chance(25) ? 10 + random.below(91) : 0,
    isDelicate: chance(15),
    isExclusive: isJacket || chance(20),
    appealPercent: random.below(101),
    moveCostPercent: Math.min(100, 5 + Math.floor(massKg / 2)),
    hands,
    steps,
  }
}

function aStep(
  j: number,
  ceiling: number,
  isJacket: boolean,
  random: Random,
  isTight: boolean,
): In<'pieces'>['steps'][number] {
  const chance = (percent: number): boolean => random.below(100) < percent
  const onLadder = chance(65)
  const force = Math.min(LADDER.length - 1, random.below(ceiling + 1) + (chance(8) ? 1 : 0))
  const technique = onLadder ? (LADDER[force] ?? 'brush') : pick(random, OTHER)
  const isMove = technique === 'turning'
  const people = isMove ? { min: 2, max: 4 } : isJacket && chance(50) ? { min: 1, max: 2 } : { min: 1, max: 1 }
  const needsScope = onLadder && force >= 3 && force <= 6 && !isJacket && chance(60)
  return {
    id: `j${j}`,
    technique,
    techniqueClass: needsScope ? 'scope' : null,
    force: onLadder ? force : null,
    isEscalated: chance(5),
    level: chance(15) ? 3 : 2,
    turnsLeft: people.min + random.below(4),
    features: [
      ...(needsScope ? ['scope'] : ['bench']),
      ...(technique === 'acid' ? ['hood'] : []),
      ...(isMove ? ['hoist'] : []),
    ],
    people,
    airLpm: AIR[technique] ?? 0,
    vibrationPerHour: SHAKE[technique] ?? 0,
    noisePerHour: NOISE[technique] ?? 0,
    givesOff: !isTight ? [] : DUSTY.includes(technique) ? ['dust'] : WET.includes(technique) ? ['solvent'] : [],
    triggerPercent: 30 + random.below(50),
    neglectPercent: onLadder ? 0 : random.below(101),
  }
}

/** Holds, claims, forbids and clocks at random: some cannot be kept, which is a case too. */
function orders(day: ProblemInput, random: Random): Partial<ProblemInput> {
  const any = (list: readonly { readonly id: string }[]): string => pick(random, list).id
  const fixed = (): In<'holds'> => {
    const piece = pick(random, day.pieces)
    return {
      person: any(day.people),
      shift: any(day.shifts),
      piece: piece.id,
      step: random.below(2) === 0 ? null : pick(random, piece.steps).id,
      place: random.below(2) === 0 ? null : any(day.places),
    }
  }
  const some = <Entry>(most: number, make: () => Entry): Entry[] => Array.from({ length: random.below(most + 1) }, make)
  return {
    holds: some(2, fixed),
    claims: some(2, fixed),
    forbids: some(4, () => ({
      person: random.below(2) === 0 ? null : any(day.people),
      piece: random.below(2) === 0 ? null : any(day.pieces),
      shift: random.below(2) === 0 ? null : any(day.shifts),
      place: random.below(2) === 0 ? null : any(day.places),
    })).filter((forbid) => forbid.person !== null || forbid.piece !== null || forbid.place !== null),
    clocks: some(1, () => {
      const shift = pick(random, day.shifts)
      return { id: 'c0', shift: shift.id, minute: shift.start + 90, piece: any(day.pieces) }
    }),
  }
}

function pick<Entry>(random: Random, list: readonly Entry[]): Entry {
  const entry = list[random.below(list.length)]
  if (entry === undefined) throw new Error('pick wants a list with entries')
  return entry
}
