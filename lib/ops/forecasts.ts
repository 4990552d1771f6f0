// The server's act of keeping forecasts: what was forecast of a step, or what became of it. Only added to.
import { finding, put } from '#lib/words'
import { defineOp } from './op.ts'

export const keepForecasts = defineOp<'keepForecasts'>({
  kind: 'keepForecasts',
  roles: [],
  // Another server on the same lab sees the same step begin; the first of them has kept it.
  judge: (records, { forecasts }) => {
    const kept = new Set(Array.from(records.forecast.values(), sameAs))
    return forecasts.filter((one) => kept.has(sameAs(one))).map(({ id }) => finding('R6', 'only-added', { record: id }))
  },
  apply: (_records, { forecasts }) => forecasts.map((one) => put('forecast', one)),
})

/** Two of one step, one reason, one day and the same minutes say the same. */
function sameAs(one: {
  readonly stepId: string
  readonly why: string
  readonly on: string
  readonly doneMinutes: number
}) {
  return `${one.stepId} ${one.why} ${one.on} ${one.doneMinutes}`
}
