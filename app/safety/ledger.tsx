'use client'
// A person's exposure, each figure opening to its formula with its numbers and the standard. Only for the person, the
// managers and whoever looks after safety; what is not on the board comes by a question that the server answers to them.
import { useMemo } from 'react'
import { EDITIONS } from '#lib/limits'
import { exposureToday, type Ledger, ledgerToday, scopeToday, withHandMinutes } from '#lib/views'
import type { RecordOf, Records } from '#lib/words'
import { Fold, NoticeLine, Section } from '../_parts/controls/index.ts'
import { sayMinutes, sayNoise } from '../_text/index.ts'
import { ExposureLine } from '../crew/exposure.tsx'
import { KeptDays } from './kept-days.tsx'
import { useHandMinutes } from './use-hand-minutes.ts'

type LedgerProps = { readonly records: Records; readonly personId: RecordOf<'person'>['id']; readonly today: string }

const fixed = (value: number, digits = 1) => value.toFixed(digits)

/** The section on a person's page. */
export function LedgerSection({ records, personId, today }: LedgerProps) {
  const { works, answer } = useHandMinutes(records, personId, true)
  const told = useMemo(() => withHandMinutes(records, works), [records, works])
  const exposure = exposureToday(told, personId, today)
  const ledger = ledgerToday(told, personId, today)
  const lab = records.lab.get('lab')
  if (!exposure || !ledger || !lab) return null
  return (
    <Section title="Today’s exposure" aside="private">
      <div className="flex flex-col gap-2 pt-3">
        <ExposureLine exposure={exposure} />
        <Vibration lab={lab} ledger={ledger} />
        <Noise ledger={ledger} limit={exposure.noiseLimit} />
        <Scope records={records} personId={personId} today={today} />
        {answer === null ? null : <KeptDays lab={lab} answer={answer} />}
        <p className="text-small text-umber">
          For {records.person.get(personId)?.name ?? 'this person'}, the managers and whoever looks after safety.
          Published vibration points; local codes decide. So do the site’s safety officer and licensed practice. The
          figures are no promise for one person.
        </p>
      </div>
    </Section>
  )
}

function Vibration({ lab, ledger }: { readonly lab: RecordOf<'lab'>; readonly ledger: Ledger }) {
  const { tools, a8Ms2, points, unknownVibration, declared } = ledger
  const known = tools.filter(({ points: of }) => of !== null)
  const kOf = (techniqueId: string) => lab.techniques.find(({ id }) => id === techniqueId)?.vibrationKMs2
  return (
    <>
      {known.length === 0 ? null : (
        <Fold title={`Vibration A(8) ${fixed(a8Ms2)} m/s², ${Math.round(points)} points`}>
          <div className="overflow-x-auto pb-3">
            <table className="figures">
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
                    <td>{tool.vibrationMs2} m/s²</td>
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
              value 5.0: {EDITIONS['eu-vibration'].title}.
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
        <NoticeLine>
          Declared by the maker, not measured in the hand: {declared.join(', ')}. In use it may be more.
        </NoticeLine>
      )}
      {unknownVibration.length === 0 ? null : (
        <NoticeLine>
          Unknown and not counted: {unknownVibration.join(', ')}. Have it measured at the bench, or ask the maker for a
          and K, and enter it under Lab settings, Techniques.
        </NoticeLine>
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

function Noise({ ledger, limit }: { readonly ledger: Ledger; readonly limit: number }) {
  const { noise, noiseRule, noisePeriods, noiseUncertaintyDb, unknownNoise } = ledger
  const unknown =
    unknownNoise.length === 0 ? null : (
      <NoticeLine>
        Noise unknown and not counted: {unknownNoise.join(', ')}. Measure it at the ear with the tool running.
      </NoticeLine>
    )
  if (noise.levelDba === null) return unknown ?? <p className="text-small">No noise is counted today.</p>
  const dose = `${Math.round(noise.dosePercent)} % dose`
  return (
    <>
      <Fold title={`Noise over the day ${sayNoise(noise.levelDba)}${noiseRule === 'eu' ? '' : `, ${dose}`}`}>
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
            The lab’s limit is {sayNoise(limit)}; line-ups count the tools alone.
          </p>
        </div>
      </Fold>
      {unknown}
    </>
  )
}

function Scope({ records, personId, today }: LedgerProps) {
  const scope = scopeToday(records, personId, today)
  if (scope === null || scope.minutes === 0) return null
  return (
    <p className="text-small">
      At the microscope {sayMinutes(scope.minutes)} today
      {scope.max === null ? '' : ` of ${sayMinutes(scope.max)}, the lab’s cap`}
      {scope.breakAfter === null ? '' : `; a break every ${sayMinutes(scope.breakAfter)}`}.
    </p>
  )
}
