'use client'
// The figures of one person's day, today's or one to come: what it comes to, then vibration, noise and microscope, each
// opening to its formula with its numbers and the standard, then what nobody knows and what to do about that.
import type { ReactNode } from 'react'
import { EDITIONS, vibrationEdition } from '#lib/limits'
import { type DayExposure, hasTool, type Ledger } from '#lib/views'
import type { RecordOf, Records } from '#lib/words'
import { Fold, Notice } from '../_parts/controls/index.ts'
import { sayList, sayMinutes, sayNoise } from '../_text/index.ts'
import { sayReached } from './say-day.ts'

/** A technique's name in the middle of a sentence. */
const inSentence = (name: string): string => name.toLowerCase()

type DayFiguresProps = {
  readonly records: Records
  readonly day: DayExposure
  /** When, within a sentence: today, on Friday. */
  readonly on?: string
  /** Formulas stand open: the day itself was opened. */
  readonly isOpen?: boolean
}

const fixed = (value: number, digits = 1) => value.toFixed(digits)

/** The lines. */
export function DayFigures({ records, day, on = 'today', isOpen = false }: DayFiguresProps) {
  const lab = records.lab.get('lab')
  if (!lab) return null
  return (
    <>
      {sayReached(day).map((said) => (
        <Notice key={said} kind="plain" mark="caution" className="py-1">
          <b>{said}</b>
        </Notice>
      ))}
      <Vibration lab={lab} ledger={day.ledger} isOpen={isOpen} />
      {hasTool(day) || day.ledger.noise.levelDba !== null || !isOpen ? (
        <Noise ledger={day.ledger} limit={day.exposure.noiseLimit} on={on} isOpen={isOpen} />
      ) : null}
      <Scope scope={day.scope} on={on} />
      {day.withoutShare.length === 0 ? null : (
        <Unknown>
          No minutes are planned for {sayList(day.withoutShare.map(inSentence))}: nobody has entered how much of the
          time it runs in the hand. Ask the manager to enter it under Lab settings, Techniques.
        </Unknown>
      )}
      {day.unsampled.length === 0 ? null : (
        <p className="text-small">
          What {sayList(day.unsampled.map(inSentence))} {day.unsampled.length === 1 ? 'gives' : 'give'} into the air is
          not in these figures: only an air sample tells. Ask whoever looks after safety for one.
        </p>
      )}
    </>
  )
}

function Unknown({ children }: { readonly children: ReactNode }) {
  return (
    <Notice kind="plain" mark="why" className="py-1">
      {children}
    </Notice>
  )
}

type VibrationProps = { readonly lab: RecordOf<'lab'>; readonly ledger: Ledger; readonly isOpen: boolean }

function Vibration({ lab, ledger, isOpen }: VibrationProps) {
  const { tools, a8Ms2, points, unknownVibration, declared } = ledger
  const known = tools.filter(({ points: of }) => of !== null)
  const kOf = (techniqueId: string) => lab.techniques.find(({ id }) => id === techniqueId)?.vibrationKMs2
  return (
    <>
      {known.length === 0 ? null : (
        <Fold isOpen={isOpen} title={`Vibration A(8) ${fixed(a8Ms2)} m/s², ${Math.round(points)} points`}>
          <div className="overflow-x-auto pb-3">
            <table className="figures text-small">
              <thead>
                <tr>
                  <th scope="col">Tool</th>
                  <th scope="col">a</th>
                  <th scope="col">In the hand</th>
                  <th scope="col">Points</th>
                  <th scope="col">Left to 2.5 / 5.0 m/s²</th>
                </tr>
              </thead>
              <tbody>
                {known.map((tool, i) => (
                  <tr key={`${tool.techniqueId} ${i}`}>
                    <th scope="row">{tool.name}</th>
                    <td className="whitespace-nowrap">{tool.vibrationMs2} m/s²</td>
                    <td>
                      {sayMinutes(Math.round(tool.minutes))}
                      {tool.isDone ? '' : ', planned'}
                    </td>
                    <td>{fixed(tool.points ?? 0)}</td>
                    <td>
                      {sayMinutes(Math.floor(tool.leftToActionMinutes ?? 0))} /{' '}
                      {sayMinutes(Math.floor(tool.leftToLimitMinutes ?? 0))}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
            <p className="pt-2 text-small">
              A(8) = √(Σ a²·T / 8 h) = √(
              {known.map(({ vibrationMs2, minutes }) => `${vibrationMs2}²·${fixed(minutes / 60, 2)}`).join(' + ')}
              {' / 8) = '}
              {fixed(a8Ms2, 2)} m/s². ISO 5349-1:2001, equations 2 and 3. Points 2·a²·T(h). Action value 2.5, limit
              value 5.0: {EDITIONS[vibrationEdition(lab.jurisdiction)].title}.
            </p>
            {known.map(({ techniqueId, name, vibrationSource, isDone }) => (
              <p key={`${techniqueId} ${isDone}`} className="text-small text-umber">
                {name}: {vibrationSource === '' ? 'nobody has said where the figure is from' : vibrationSource};{' '}
                {sayK(kOf(techniqueId))}.
              </p>
            ))}
          </div>
        </Fold>
      )}
      {declared.length === 0 ? null : (
        <Unknown>
          Declared by the maker, not measured in the hand: {declared.join(', ')}. In use it may be more.
        </Unknown>
      )}
      {unknownVibration.length === 0 ? null : (
        <Unknown>
          Vibration unknown and not counted: {unknownVibration.join(', ')}. Ask the manager to have it measured at the
          bench, or to ask the maker for a and K and enter them under Lab settings, Techniques.
        </Unknown>
      )}
    </>
  )
}

/** What is known of how far a tool's figure may be off. */
const sayK = (kMs2: number | undefined): string =>
  kMs2 === undefined ? 'its uncertainty K is not known' : `K ${kMs2} m/s², not added to the figure`

const rules = {
  eu: 'equal energy, 3 dB: L_EX,8h = 10·lg(Σ T·10^(L/10) / 8 h), ISO 1999 and Directive 2003/10/EC',
  niosh: 'dose by 3 dB from 85 dB(A), NIOSH 98-126 (1998)',
  osha: 'dose by 5 dB from 90 dB(A), 29 CFR 1910.95 Appendix A',
} as const

type NoiseProps = {
  readonly ledger: Ledger
  readonly limit: number
  readonly on: string
  readonly isOpen: boolean
}

function Noise({ ledger, limit, on, isOpen }: NoiseProps) {
  const { noise, noiseRule, noisePeriods, noiseUncertaintyDb, unknownNoise } = ledger
  const unknown =
    unknownNoise.length === 0 ? null : (
      <Unknown>
        Noise unknown and not counted: {unknownNoise.join(', ')}. Ask for it to be measured at the ear with the tool
        running.
      </Unknown>
    )
  if (noise.levelDba === null) return unknown ?? <p className="text-small">No noise is counted {on}.</p>
  const dose = `${Math.round(noise.dosePercent)} % dose`
  return (
    <>
      <Fold
        isOpen={isOpen}
        title={`Noise over the day ${sayNoise(noise.levelDba)}${noiseRule === 'eu' ? '' : `, ${dose}`}`}
      >
        <div className="pb-3 text-small">
          <p>By {rules[noiseRule]}. Each tool with the level around it: 10·lg(10^(L₁/10) + 10^(L₂/10)).</p>
          <ul>
            {noisePeriods.map(({ name, levelDba, minutes }) => (
              <li key={`${name} ${minutes}`}>
                {name === '' ? 'The room alone' : name}: {sayNoise(levelDba)} for {sayMinutes(Math.round(minutes))}
              </li>
            ))}
          </ul>
          <p>
            {noiseUncertaintyDb === null
              ? 'How far it may be off is not known: that takes three samples or more of each loud tool (ISO 9612:2009, task-based).'
              : `May be off by ${fixed(noiseUncertaintyDb)} dB (ISO 9612:2009, task-based, 95 %).`}{' '}
            The lab’s limit is {sayNoise(limit)}; line-ups count the hours with a tool.
          </p>
        </div>
      </Fold>
      {unknown}
    </>
  )
}

function Scope({ scope, on }: { readonly scope: DayExposure['scope']; readonly on: string }) {
  if (scope === null || scope.minutes === 0) return null
  return (
    <p className="text-small">
      At the microscope {sayMinutes(scope.minutes)} {on}
      {scope.max === null ? '' : ` of ${sayMinutes(scope.max)}, the lab’s cap`}
      {scope.breakAfter === null ? '' : `; a break every ${sayMinutes(scope.breakAfter)}`}.
    </p>
  )
}
