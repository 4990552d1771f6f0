// The acts around what the work does to the people: checks, incidents, air samples, cautions that were read.
import * as z from 'zod/mini'
import { AirSample, Check, CheckDone, Incident, Lift, OpId, RecordId, SeenCaution, ShiftId } from '#lib/words'

/** Defines a check, or changes one; what was done of it stays. */
export const SetCheck = z.strictObject({
  id: OpId,
  kind: z.literal('setCheck'),
  check: z.omit(Check, { last: true }),
})

/** A check was done just now. */
export const DoCheck = z.strictObject({
  id: OpId,
  kind: z.literal('doCheck'),
  doneId: RecordId,
  checkId: RecordId,
  shiftId: z.nullable(ShiftId),
  result: CheckDone.shape.result,
  note: CheckDone.shape.note,
})

/** Tells of an incident or near miss, or corrects what was told; who tells it and when is stamped. */
export const ReportIncident = z.strictObject({
  id: OpId,
  kind: z.literal('reportIncident'),
  incident: z.omit(Incident, { by: true, at: true }),
})

/** Keeps a personal air sample, or corrects one; who kept it and when is stamped. */
export const AddSample = z.strictObject({
  id: OpId,
  kind: z.literal('addSample'),
  sample: z.omit(AirSample, { by: true, at: true }),
})

/** How a piece would be lifted by hand; who measured it, when, and the formula's version are stamped. */
export const MeasureLift = z.strictObject({
  id: OpId,
  kind: z.literal('measureLift'),
  lift: z.omit(Lift, { formula: true, by: true, at: true }),
})

/** One has read cautions, each in a version. */
export const Acknowledge = z.strictObject({
  id: OpId,
  kind: z.literal('acknowledge'),
  seen: z.array(z.omit(SeenCaution, { on: true })).check(z.minLength(1), z.maxLength(20)),
})
