'use client'
// The lab's own list: what may touch a piece, what only lie in its box, since which test. The list is the lab's
// judgement; Talus keeps it and asks.
import type { RecordOf } from '#lib/words'
import { DialogButton, Notice, Row, Rows, Section } from '../_parts/controls/index.ts'
import { capital, sayAllowed, sayDate, sayList } from '../_text/index.ts'
import type { CrewAt } from '../crew/use-crew-at.ts'
import { MaterialForm } from './material-form.tsx'

type Material = RecordOf<'material'>

const order: readonly Material['what'][] = ['resin', 'adhesive', 'gap filler', 'acid', 'solvent']

/** The list and, for staff, how to change it. */
export function MaterialList({ at }: { readonly at: CrewAt }) {
  const materials = [...at.records.material.values()].toSorted(
    (a, b) =>
      Number(b.isActive) - Number(a.isActive) ||
      order.indexOf(a.what) - order.indexOf(b.what) ||
      a.name.localeCompare(b.name, 'en'),
  )
  return (
    <Section id="list" title="What the lab uses" aside={materials.length > 0 ? `${materials.length}` : undefined}>
      {materials.length === 0 ? <Notice kind="empty">Nothing is on the list yet.</Notice> : null}
      <Rows label="Materials of the lab">
        {materials.map((one) => (
          <Row
            key={one.id}
            height="list"
            isDone={!one.isActive}
            note={noteOf(at, one)}
            end={
              at.isStaff ? (
                <DialogButton kind="quiet" word="Change…" label={`Change ${one.name}`} title={one.name}>
                  {(close) => <MaterialForm at={at} material={one} onDone={close} />}
                </DialogButton>
              ) : undefined
            }
          >
            <b>{one.name}</b> <span className="text-umber">{one.what}</span>
          </Row>
        ))}
      </Rows>
      {at.isStaff ? (
        <DialogButton mark="add" word="Add a material…" title="A material of the lab" className="mt-3">
          {(close) => <MaterialForm at={at} material={null} onDone={close} />}
        </DialogButton>
      ) : null}
      <p className="pt-3 text-small text-umber">
        What stands here is the lab’s own judgement. A new lot asks for a new test; makers’ data sheets and the site’s
        safety officer decide how it is handled.
      </p>
    </Section>
  )
}

function noteOf({ records, today }: CrewAt, one: Material): string {
  const solvents = one.solventIds.map((id) => records.material.get(id)?.name.toLowerCase() ?? '')
  const year = one.testedOn?.slice(0, 4) === today.slice(0, 4) ? 'short' : 'full'
  return capital(
    [
      one.isActive ? '' : 'no longer used',
      sayAllowed(one),
      one.testedOn === null ? '' : `tested ${sayDate(one.testedOn, year)}`,
      one.testedLot === '' ? '' : `lot ${one.testedLot}`,
      one.testNote,
      solvents.length === 0 ? '' : `goes into ${sayList(solvents, 'or')}`,
      one.densityGMl === null ? '' : `${one.densityGMl} g/ml`,
    ]
      .filter((word) => word !== '')
      .join('; '),
  )
}
