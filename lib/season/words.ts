// The season's answers as plain data: what screens draw and what crosses the socket. No sentence is in here; `app/_text`
// makes them. Chances run from 0 to 1, dates are the lab's local dates, hours are hours of hands unless told otherwise.

/** Ten, fifty and ninety in a hundred. */
export interface Band {
  readonly p10: number
  readonly p50: number
  readonly p90: number
}

/** Days by which a piece is ready in 10, 50 and 90 of a hundred futures; null: not before the season's last day. */
export interface SeasonWindow {
  readonly p10: string | null
  readonly p50: string | null
  readonly p90: string | null
}

/**
 * What holds a piece up most. hours: it is worked on nearly whenever it can be, there is just much to do. people: it
 * waits for hands that know the technique. place: it waits for a bench. air: it waits for compressed air. order: other
 * pieces go first and hands are elsewhere. rest: it cures, soaks or dries. stuck: nobody may do a step at all.
 */
export type Cause = 'hours' | 'people' | 'place' | 'air' | 'order' | 'rest' | 'stuck'

/** Half-days in which a piece was held up, as a share of all its half-days to the end; the greatest first. */
export interface Reason {
  readonly cause: Cause
  /** The technique waited for, or of the step that is stuck; null where none is to be named. */
  readonly techniqueId: string | null
  /** The step that is stuck; null otherwise. */
  readonly stepId: string | null
  readonly share: number
}

/** One date, asked for or accepted. */
export interface DateOutlook {
  readonly dueId: string
  readonly pieceId: string
  readonly date: string
  readonly isHard: boolean
  readonly isAsked: boolean
  /** Share of futures in which the piece is ready on the date; the date itself still counts. */
  readonly chance: number
  /** Standard error of that share: what the number of futures leaves open, not what the model does. */
  readonly chanceError: number
  readonly window: SeasonWindow
  /** Chance to be ready by each seventh day from the season's first: `curve[0]` is the chance within 7 days. */
  readonly curve: readonly number[]
  /** First day on which the chance is 80 and 95 in a hundred; null: not within the season. */
  readonly at80: string | null
  readonly at95: string | null
  /** Hours of hands left. */
  readonly leftH: Band
  /** True while nobody has seen what is inside. */
  readonly isUnseen: boolean
  readonly reasons: readonly Reason[]
}

/** Any piece with work left, dated or not. */
export interface PieceOutlook {
  readonly pieceId: string
  readonly window: SeasonWindow
  readonly leftH: Band
  /** Chance that it is finished within the season. */
  readonly chance: number
  /** Its place in the order of the plan, 1 first. */
  readonly order: number
}

/** A sealed jacket of the season: whether opening it is worth its hours now. */
export interface JacketOutlook {
  readonly pieceId: string
  /** Worth by what the records say of it: dates, followers, purpose, questions. No unit; compare with each other. */
  readonly value: number
  readonly leftH: Band
  /** Half of the futures have begun it by this day; null: not within the season. */
  readonly opensOn: string | null
  /** Chance that it is finished within the season. */
  readonly chance: number
  /** open: its turn comes and it is finished more often than not. later: begun, seldom finished. rest: hardly begun. */
  readonly verdict: 'open' | 'later' | 'rest'
}

/** What is scarce: hands by technique, places by their kind, compressed air. */
export interface Bottleneck {
  readonly kind: 'people' | 'place' | 'air'
  /** The technique's id, the kind of place, or `air`. */
  readonly id: string
  /** By week from the season's first: used of what there is. Hours of hands, hours of seats, or litres a minute. */
  readonly used: readonly Band[]
  readonly there: readonly number[]
  /** Dated pieces that stand still for it in a usual half-day of the week, a mean over futures: what runs short. */
  readonly waits: readonly number[]
}

/** One person's half-day in the season's plan. */
export interface PlannedTurn {
  readonly date: string
  readonly shiftId: string
  readonly personId: string
  readonly pieceId: string
  readonly stepId: string
  readonly placeId: string
}

/** What was taken for granted and may be asked about. */
export interface Assumed {
  /** Sign-offs that run out within the season and are counted as renewed in time. */
  readonly renewals: readonly { readonly personId: string; readonly techniqueId: string; readonly on: string }[]
  /** Share of half-days on which people are away unforeseen, and share of a half-day that becomes hours of work. */
  readonly awayShare: number
  readonly workShare: number
}

/** The whole season as of a moment. */
export interface SeasonAnswer {
  readonly kind: 'season'
  /** Durable position of the records it was made from. */
  readonly seq: number
  readonly from: string
  readonly weeks: number
  readonly futures: number
  readonly seed: number
  /** False while more futures are being counted. */
  readonly isWhole: boolean
  /** By date, then id. */
  readonly dates: readonly DateOutlook[]
  /** In the order of the plan. */
  readonly pieces: readonly PieceOutlook[]
  /** Worth most an hour first. */
  readonly jackets: readonly JacketOutlook[]
  readonly load: readonly Bottleneck[]
  /** The first two weeks of the plan as they would go if all took its median time and everybody came. */
  readonly plan: readonly PlannedTurn[]
  readonly assumed: Assumed
}

/** One thing that might be done about a date. */
export type Remedy =
  /** A second one of the place. */
  | { readonly kind: 'place'; readonly placeId: string }
  /** One half-day a week more of somebody who can do the technique. */
  | {
      readonly kind: 'hours'
      readonly personId: string
      readonly techniqueId: string
      readonly weekday: number
      readonly shiftId: string
      readonly weeklyH: number
    }
  /** Somebody one level short is signed off for the level the piece asks for, from a day on. */
  | {
      readonly kind: 'train'
      readonly personId: string
      readonly techniqueId: string
      readonly level: number
      readonly from: string
    }
  /** The piece goes before all others from now on; for what is still sealed that means opening it now. */
  | { readonly kind: 'first'; readonly opens: boolean }
  /** The date itself, later. */
  | { readonly kind: 'date'; readonly date: string }
  /** Another piece rests for the season. */
  | { readonly kind: 'drop'; readonly pieceId: string }

/** What another date would lose or gain. */
export interface ChanceChange {
  readonly dueId: string
  readonly pieceId: string
  readonly before: number
  readonly after: number
}

export interface Help {
  readonly remedy: Remedy
  readonly chance: number
  /** Chance with it less chance without, in the same futures. */
  readonly gain: number
  /** Standard error of the gain. */
  readonly gainError: number
  /** Dates whose chance changes by more than chance itself would; most lost first. */
  readonly others: readonly ChanceChange[]
}

/** What would help one date, best first; comes several times while remedies are tried. */
export interface HelpsAnswer {
  readonly kind: 'helps'
  readonly seq: number
  readonly dueId: string
  readonly chance: number
  readonly futures: number
  readonly helps: readonly Help[]
  /** Remedies tried so far, of how many. */
  readonly tried: number
  readonly remedies: number
}

/** Whether a date could be promised for a piece. */
export interface PromiseAnswer {
  readonly kind: 'promise'
  readonly seq: number
  readonly pieceId: string
  readonly date: string
  readonly futures: number
  /** As the season is planned now, with nothing moved for it. */
  readonly chanceNow: number
  /** With the piece put where the date asks for it. */
  readonly chance: number
  readonly chanceError: number
  readonly window: SeasonWindow
  readonly curve: readonly number[]
  readonly at80: string | null
  readonly at95: string | null
  /** Accepted dates that it would push back or help; most lost first. */
  readonly others: readonly ChanceChange[]
}

/** Why a question about the season has no answer. stuck names the piece's steps that nobody may do. */
export interface SeasonRefused {
  readonly refused: 'not-allowed' | 'form' | 'unknown' | 'nothing-left' | 'stopped' | 'fault'
}
