/** Vibration and noise of a day. */
import { z } from 'zod'
import {
  noiseByJob,
  noiseByTasks,
  noiseDaily,
  noiseReferenceMinutes,
  noiseTogether,
  noiseUnderProtector,
  noiseWeek,
  PUBLISHED_LIMITS,
  vibrationDaily,
  vibrationTotal,
  yearsToBlanching,
} from '#lib/limits'
import { between, type Figure, figure, label, list, minutes, positive, refuse, withinADay } from './figure.ts'

const vibrationMs2 = between(0, 100, 'vibration total value of the tool in use, m/s²')
/** NIOSH's ceiling; the directives' peak limit lies there too. No rule here allows a minute of it. */
const levelDba = between(0, 140, 'A-weighted level at the ear, dB(A); above 140 no duration is allowed')
const samplesDba = (least: number) => list(levelDba, least).describe('measured L_p,A,eqT, dB(A)')
const rule = z.enum(['eu', 'niosh', 'osha'])

const ceilingOf = { eu: null, niosh: 'niosh-noise', osha: 'osha-noise' } as const

export const exposureFigures: readonly Figure[] = [
  figure({
    name: 'vibration.daily',
    says: 'Daily hand-arm vibration from tools and the minutes they ran in the hand (trigger time, not bench time).',
    formula: 'A(8) = √(Σ a²·T / 8 h); points = Σ 2·a²·T(h); minutes to a value v = 480·(v / a)²',
    standard:
      'ISO 5349-1:2001 eqs 2 and 3; action 2.5, limit 5 m/s² A(8): Directive 2002/44/EC Art. 3(1) (EU), Control of ' +
      'Vibration at Work Regulations 2005 (UK); points: HSE exposure points system (100 action, 400 limit)',
    input: z.strictObject({ tools: withinADay(z.strictObject({ name: label, vibrationMs2, minutes })) }),
    outputs: {
      a8Ms2: 'm/s² A(8)',
      partialMs2: 'm/s² A(8) of each tool; they add in quadrature',
      points: 'HSE points; they add',
      minutesToAction: 'min of each tool alone to 2.5 m/s² A(8), null when never; may exceed a day',
      minutesToLimit: 'the same to 5 m/s² A(8)',
    },
    run: ({ tools }) => vibrationDaily(tools),
  }),
  figure({
    name: 'vibration.total',
    says: 'Vibration total value of a tool from its three axes.',
    formula: '√(ax² + ay² + az²)',
    standard: 'ISO 5349-1:2001 eq. 1',
    input: z.strictObject({ axMs2: vibrationMs2, ayMs2: vibrationMs2, azMs2: vibrationMs2 }),
    outputs: { vibrationMs2: 'm/s²' },
    run: ({ axMs2, ayMs2, azMs2 }) => ({ vibrationMs2: vibrationTotal([axMs2, ayMs2, azMs2]) }),
  }),
  figure({
    name: 'vibration.years',
    says: 'Years of such days until a tenth of a group has had blanched fingers; of groups, never of one person.',
    formula: '31.8·A(8)^−1.06',
    standard: 'ISO 5349-1:2001 Annex C, eq. C.1',
    input: z.strictObject({ a8Ms2: positive(100, 'm/s² A(8)') }),
    outputs: { years: 'years' },
    run: ({ a8Ms2 }) => ({ years: yearsToBlanching(a8Ms2) }),
  }),
  figure({
    name: 'noise.daily',
    says: 'Daily noise of levels and minutes, by the chosen rule; the three rules add differently.',
    formula:
      'level = 10·lg[Σ T·10^(L/10) / 8 h]; dose = 100·Σ C / T(L), T: eu 8 h·10^((85−L)/10), niosh 8 h / 2^((L−85)/3), osha ' +
      '8 h / 2^((L−90)/5) from 80 dBA on; twa: eu and niosh 10·lg(D/100) + 85, osha 16.61·lg(D/100) + 90',
    standard:
      'Directive 2003/10/EC Art. 2 (EU, UK), dose as HSE points; NIOSH 98-126 (1998) 1.1; 29 CFR 1910.95 App. A (US OSHA)',
    input: z.strictObject({ rule, periods: withinADay(z.strictObject({ name: label, levelDba, minutes })) }),
    outputs: {
      levelDba: 'dB(A) over 8 h by equal energy, null for no noise',
      dosePercent: '% of the rule’s criterion',
      twaDba: 'dB(A) over 8 h that the dose stands for, null for no dose',
      ceilingDba: 'dB(A) that is never to be passed, null where the rule has none on this scale',
      aboveCeiling: 'whether a period passes it',
    },
    run: ({ rule: by, periods }) => {
      const edition = ceilingOf[by]
      const ceiling = PUBLISHED_LIMITS.find((one) => one.edition === edition && one.kind === 'ceiling')
      const ceilingDba = ceiling?.value ?? null
      const aboveCeiling = ceilingDba !== null && periods.some((one) => one.minutes > 0 && one.levelDba > ceilingDba)
      return { ...noiseDaily(by, periods), ceilingDba, aboveCeiling }
    },
  }),
  figure({
    name: 'noise.reference',
    says: 'How long a level alone may last until the dose is 100 %.',
    formula: 'eu 480·10^((85−L)/10); niosh 480 / 2^((L−85)/3); osha 480 / 2^((L−90)/5) minutes',
    standard: 'as noise.daily; OSHA Table G-16a and NIOSH Table 1-1 print these rounded',
    input: z.strictObject({ rule, levelDba }),
    outputs: { minutes: 'min; may exceed a day' },
    run: (input) => ({ minutes: noiseReferenceMinutes(input.rule, input.levelDba) }),
  }),
  figure({
    name: 'noise.task',
    says: 'Daily level from samples of each task, with its expanded uncertainty.',
    formula:
      'task = 10·lg mean(10^(L/10)); contribution = task + 10·lg(T / 8 h); energies add; U = 1.65·√Σ[c1a²·(u1a² + u2² + ' +
      'u3²) + (c1b·u1b)²], u2 1.5 dB (personal exposimeter) unless given, u3 1 dB',
    standard: 'ISO 9612:2009 clause 9, Annex C',
    input: z.strictObject({
      tasks: withinADay(
        z.strictObject({
          name: label,
          samplesDba: samplesDba(1),
          minutes: positive(1440, 'minutes of the task in the day'),
          fromMinutes: minutes.optional().describe('shortest it lasts, for the duration’s uncertainty'),
          toMinutes: minutes.optional().describe('longest it lasts'),
        }),
        1,
      ).refine(
        (tasks) =>
          tasks.every(
            (one) => (one.fromMinutes ?? one.minutes) <= one.minutes && one.minutes <= (one.toMinutes ?? one.minutes),
          ),
        'fromMinutes ≤ minutes ≤ toMinutes',
      ),
      instrumentDb: between(0, 5, 'standard uncertainty of the instrument, dB: 0.7 class 1, 1.5 class 2').optional(),
    }),
    outputs: {
      taskDba: 'dB(A) of each task',
      contributionDba: 'dB(A) each adds to the day',
      levelDba: 'dB(A) L_EX,8h',
      uncertaintyDb: 'dB, expanded, one-sided 95 %',
      needsMore: 'tasks whose samples lie 3 dB or more apart and want more of them',
    },
    run: ({ tasks, instrumentDb }) => noiseByTasks(tasks, instrumentDb),
  }),
  figure({
    name: 'noise.job',
    says: 'Daily level from samples taken at random over the day of people with one job.',
    formula:
      'mean = 10·lg mean(10^(L/10)); level = mean + 10·lg(T / 8 h); u1 = standard deviation of the samples (n − 1)',
    standard: 'ISO 9612:2009 clauses 10 and 11, Annex C eq. C.12; at least three samples',
    input: z.strictObject({ samplesDba: samplesDba(3), minutes: positive(1440, 'effective duration of the day') }),
    outputs: { meanDba: 'dB(A)', levelDba: 'dB(A) L_EX,8h', u1Db: 'dB' },
    run: (input) => noiseByJob(input.samplesDba, input.minutes),
  }),
  figure({
    name: 'noise.together',
    says: 'Level at one ear of several sources at once: stations in one room and its background.',
    formula: '10·lg Σ 10^(L/10)',
    standard: 'energy sum of sources that do not follow each other (ISO 9612:2009 eq. 9, equal durations)',
    input: z.strictObject({ levelsDba: list(levelDba, 1) }),
    outputs: { levelDba: 'dB(A)' },
    run: ({ levelsDba }) => ({ levelDba: noiseTogether(levelsDba) }),
  }),
  figure({
    name: 'noise.week',
    says: 'Weekly exposure from the days’ levels, where days differ much.',
    formula: '10·lg[Σ 10^(L/10) / 5]; points = 100·10^((L−85)/10) a day',
    standard: 'Directive 2003/10/EC Art. 2(c) (EU, UK); HSE weekly ready-reckoner 2020',
    input: z.strictObject({ daysDba: z.array(levelDba).min(1).max(7) }),
    outputs: { points: 'HSE points of the week', levelDba: 'dB(A) L_EP,w' },
    run: ({ daysDba }) => noiseWeek(daysDba),
  }),
  figure({
    name: 'noise.protected',
    says: 'Level under a hearing protector by its noise reduction rating.',
    formula: 'TWA − (NRR − 7) / 2',
    standard: '29 CFR 1910.95 App. B with the 50 % derating of the OSHA Technical Manual (US; derating from memory)',
    input: z.strictObject({ twaDba: levelDba, nrrDb: between(0, 50, 'noise reduction rating, dB') }),
    outputs: { protectedDba: 'dB(A)' },
    run: ({ twaDba, nrrDb }) => {
      if (nrrDb <= 7) return refuse('A rating of 7 dB or less promises nothing for A-weighted levels (1910.95 App. B).')
      return { protectedDba: noiseUnderProtector(twaDba, nrrDb) }
    },
  }),
]
