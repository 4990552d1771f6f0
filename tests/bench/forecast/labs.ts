// Labs whose truth is known: pieces come, steps are begun by somebody, take the hours that the lab's own truth says and
// are worked on side by side, so that at any moment some are unfinished. Some labs are as the model believes; most are
// not. Invented throughout.
import { addDays, type Random, seededRandom } from '#lib/base'
import type { Facts, Past } from '#lib/forecast'

/** One step of a lab's life. */
export interface LifeStep {
  readonly facts: Facts
  readonly pieceId: string
  readonly personId: string
  /** Hours as they turn out when it is worked on to the end. */
  readonly trueH: number
  /** Hours after which it is given up; infinite for most. */
  readonly givenUpH: number
  readonly typedLowH: number
  readonly typedHighH: number
  /** Days since the lab began. */
  readonly from: number
  readonly to: number
}

export interface LabKind {
  readonly name: string
  /** What of the model's beliefs does not hold there. */
  readonly breaks: string
  readonly make: (seed: number, steps: number) => readonly LifeStep[]
}

/** The ways in which labs differ. */
interface Truth {
  readonly level: number
  readonly size: number
  readonly hardness: number
  readonly contrast: number
  readonly soundness: number
  readonly breakage: number
  readonly pieceSd: number
  readonly handsSd: number
  readonly techniqueSd: number
  /** Noise of one step in log hours, from chance. */
  readonly noise: (chance: Chance) => number
  /** What is added by day, person, rock. */
  readonly extra: (at: { readonly day: number; readonly person: number; readonly facts: Facts }) => number
  /** Typed hours from true ones; null when nobody types. */
  readonly typed: ((trueLog: number, usualLog: number, chance: Chance) => number) | null
  /** Log hours from what would be taken to what is taken, once an estimate is there. */
  readonly taken: (log: number, typedLog: number | null) => number
  /** Longer than this many times what is usual for such a step, and it is likely given up. */
  readonly givesUpAt: number
}

interface Chance extends Random {
  readonly normal: () => number
}

function chanceOf(seed: number): Chance {
  const random = seededRandom(seed)
  const normal = () => Math.sqrt(-2 * Math.log(1 - random.unit())) * Math.cos(2 * Math.PI * random.unit())
  return { ...random, normal }
}

const plain: Truth = {
  level: 0,
  size: 0.5,
  hardness: 0.28,
  contrast: -0.15,
  soundness: -0.1,
  breakage: 0.12,
  pieceSd: 0.3,
  handsSd: 0.2,
  techniqueSd: 0.3,
  noise: (chance) => 0.4 * chance.normal(),
  extra: () => 0,
  typed: (trueLog, usualLog, chance) => 0.5 * trueLog + 0.5 * usualLog - 0.15 + 0.35 * chance.normal(),
  taken: (log) => log,
  givesUpAt: Number.POSITIVE_INFINITY,
}

const student = (chance: Chance, degrees: number): number => {
  let squares = 0
  for (let i = 0; i < degrees; i++) squares += chance.normal() ** 2
  return chance.normal() / Math.sqrt(squares / degrees)
}

/** Labs as the model believes, and labs that break what it believes. */
export const labKinds: readonly LabKind[] = [
  kind('as believed', 'nothing', {}),
  kind('nobody estimates', 'no typed hours', { typed: null }),
  kind('unlike practice', 'hardness means nothing, size more, all four times as long', {
    level: 1.4,
    size: 0.85,
    hardness: 0,
    contrast: 0.1,
    breakage: 0.3,
  }),
  kind('wild guesses', 'typed hours have hardly to do with the work', {
    typed: (_true, usualLog, chance) => usualLog - 0.5 + 1.1 * chance.normal(),
  }),
  kind('good guesses', 'typed hours are better than any fact', {
    typed: (trueLog, _usual, chance) => trueLog - 0.2 + 0.22 * chance.normal(),
  }),
  kind('heavy tails', 'noise is Student t with 3 degrees of freedom', {
    noise: (chance) => 0.3 * student(chance, 3),
  }),
  kind('surprises', 'one step in seven takes three times as long', {
    noise: (chance) => 0.3 * chance.normal() + (chance.unit() < 1 / 7 ? Math.log(3) : 0),
  }),
  kind('drifting', 'the lab gets a third faster in two years, and at once after a new compressor', {
    extra: ({ day }) => -0.3 * Math.min(1, day / 700) - (day > 420 ? 0.25 : 0),
  }),
  kind('person by rock', 'some are quick in hard rock and slow in soft, others the other way', {
    extra: ({ person, facts }) => (person % 2 === 0 ? 0.22 : -0.22) * ((facts.rockHardness ?? 3) - 3),
  }),
  kind('crooked', 'effects are not straight lines: a threshold in hardness, size that saturates', {
    hardness: 0,
    size: 0,
    extra: ({ facts }) =>
      ((facts.rockHardness ?? 3) >= 5 ? 0.9 : 0) + 0.9 * Math.log(Math.min(facts.sizeCm2 ?? 1, 400) / 120),
  }),
  kind('gives up', 'long steps are dropped, so what is finished was short', { givesUpAt: 1.6 }),
  kind('fills the time', 'work takes at least what was estimated', {
    typed: (trueLog, _usual, chance) => trueLog + 0.1 + 0.5 * chance.normal(),
    taken: (log, typedLog) => (typedLog === null ? log : Math.max(log, typedLog - 0.1)),
  }),
]

function kind(name: string, breaks: string, differs: Partial<Truth>): LabKind {
  return { name, breaks, make: (seed, steps) => lifeOf({ ...plain, ...differs }, seed, steps) }
}

const techniques = [
  ['exposing', 'brush'],
  ['exposing', 'needle'],
  ['exposing', 'scalpel'],
  ['exposing', 'fine-scribe'],
  ['exposing', 'heavy-scribe'],
  ['exposing', 'abrasion'],
  ['consolidating', 'consolidating'],
  ['joining', 'joining'],
  ['joining', 'filling'],
  ['housing', 'housing'],
  ['housing', 'documentation'],
  ['opening', 'opening'],
] as const
/** Hours of each group's work on a usual piece in these labs; not the model's own figures. */
const usualH = { exposing: 60, consolidating: 4, joining: 11, housing: 7, opening: 4, other: 8 }
const PEOPLE = 14
/** Steps at work at a time. */
const SIDE_BY_SIDE = 25
const HOURS_A_DAY = 1.1

function lifeOf(truth: Truth, seed: number, steps: number): readonly LifeStep[] {
  const chance = chanceOf(seed)
  // No two labs are alike: each is some way off what is usual in every respect.
  const level = truth.level + 0.35 * chance.normal()
  const effect = {
    size: truth.size + 0.1 * chance.normal(),
    hardness: truth.hardness + 0.1 * chance.normal(),
    contrast: truth.contrast + 0.07 * chance.normal(),
    soundness: truth.soundness + 0.06 * chance.normal(),
    breakage: truth.breakage + 0.07 * chance.normal(),
    shared: 0.75 + 0.15 * chance.normal(),
  }
  const ofGroup = new Map(Object.keys(usualH).map((group) => [group, 0.3 * chance.normal()]))
  const hands = Array.from({ length: PEOPLE }, () => truth.handsSd * chance.normal())
  const skill = techniques.map(() => truth.techniqueSd * chance.normal())
  const turns = new Map<string, number>()
  const life: LifeStep[] = []
  const queue: {
    readonly facts: Omit<Facts, 'typedH'>
    readonly pieceId: string
    readonly piece: number
    readonly skill: number
  }[] = []
  const freeAt = Array.from({ length: SIDE_BY_SIDE }, (_, i) => i * 1.5)
  for (let pieces = 0; life.length < steps; ) {
    while (queue.length < 60) {
      const piece = truth.pieceSd * chance.normal()
      const sizeCm2 = 150 * Math.exp(1.3 * chance.normal())
      const rating = () => 1 + chance.below(5)
      const known = { rockHardness: rating(), contrast: rating(), soundness: rating(), breakage: rating() }
      const mine = techniques.map((_, i) => i).filter(() => chance.unit() < 0.4)
      const shared = (group: string) => mine.filter((i) => techniques[i]?.[0] === group).length
      const isPriority = chance.unit() < 0.15
      for (const i of mine) {
        const [group, techniqueId] = techniques[i] ?? ['other', '']
        const facts = { group, techniqueId, sizeCm2, ...known, isPriority, sharedBy: shared(group), isUnseen: false }
        queue.push({ facts, pieceId: `piece-${pieces}`, piece, skill: skill[i] ?? 0 })
      }
      pieces++
    }
    const bench = freeAt.indexOf(Math.min(...freeAt))
    const day = freeAt[bench] ?? 0
    // Not quite in their order: several pieces are in work at a time.
    const [next] = queue.splice(chance.below(12), 1)
    if (!next) continue
    const { facts } = next
    const person = chance.below(PEOPLE)
    const turn = `${person} ${facts.techniqueId}`
    const isRock = facts.group === 'exposing'
    const usual =
      (ofGroup.get(facts.group) ?? 0) +
      Math.log(usualH[facts.group]) +
      0.5 * Math.log((facts.sizeCm2 ?? 120) / 120) -
      0.8 * Math.log(facts.sharedBy)
    const own =
      (ofGroup.get(facts.group) ?? 0) +
      Math.log(usualH[facts.group]) +
      level +
      effect.size * Math.log((facts.sizeCm2 ?? 120) / 120) * (isRock ? 1 : 0.8) +
      (isRock
        ? effect.hardness * ((facts.rockHardness ?? 3) - 3) +
          effect.contrast * ((facts.contrast ?? 3) - 3) +
          effect.soundness * ((facts.soundness ?? 3) - 3)
        : 0) +
      (isRock || facts.group === 'joining' ? effect.breakage * ((facts.breakage ?? 3) - 3) : 0) -
      effect.shared * Math.log(facts.sharedBy) +
      next.piece +
      next.skill +
      (hands[person] ?? 0) -
      0.1 * Math.log((1 + (turns.get(turn) ?? 0)) / 5) +
      truth.extra({ day, person, facts: { ...facts, typedH: null } }) +
      truth.noise(chance)
    const typedLog = truth.typed === null ? null : truth.typed(own, usual + level, chance)
    const trueH = Math.exp(truth.taken(own, typedLog))
    const isLong = own > usual + level + Math.log(truth.givesUpAt)
    const givenUpH = isLong && chance.unit() < 0.6 ? trueH * (0.4 + 0.5 * chance.unit()) : Number.POSITIVE_INFINITY
    const typedH = typedLog === null ? null : Math.exp(typedLog)
    const to = day + Math.min(trueH, givenUpH) / HOURS_A_DAY
    freeAt[bench] = to
    turns.set(turn, (turns.get(turn) ?? 0) + 1)
    life.push({
      facts: { ...facts, typedH },
      pieceId: next.pieceId,
      personId: `p${person}`,
      trueH,
      givenUpH,
      typedLowH: (typedH ?? 0) * 0.75,
      typedHighH: (typedH ?? 0) * 1.6,
      from: day,
      to,
    })
  }
  return life
}

/** What the lab knows on a day: steps begun by then, finished ones with their hours, others with what they took so far. */
export function pastOn(life: readonly LifeStep[], day: number): readonly Past[] {
  return life
    .filter((step) => step.from < day)
    .map((step): Past & { readonly at: number } => {
      const isOver = step.to <= day
      const isOpen = !isOver || step.givenUpH < step.trueH
      const hours = isOver ? Math.min(step.trueH, step.givenUpH) : (day - step.from) * HOURS_A_DAY
      const minutes = hours * 60
      const at = Math.min(step.to, day)
      return {
        facts: step.facts,
        pieceId: step.pieceId,
        minutes,
        isOpen,
        on: addDays('2020-01-01', Math.floor(at)),
        by: [{ personId: step.personId, minutes }],
        at,
      }
    })
    .sort((a, b) => a.at - b.at)
}
