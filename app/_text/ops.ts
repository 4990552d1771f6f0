// Names of the acts: for undo ("Take back: shelving MC20-051") and for the history ("shelved MC20-051").
import type { Op, OpKind } from '#lib/ops'
import type { Records } from '#lib/words'
import { sayCount, sayKg } from './amounts.ts'
import { sayDate } from './dates.ts'
import { type Names, namesIn } from './names.ts'

type Told = { readonly [K in OpKind]: (op: Extract<Op, { kind: K }>, say: Names, records: Records) => string }

/** What was done, as it follows a name: Bea … claimed MC20-051. */
const told: Told = {
  setLab: () => 'changed the lab’s settings',
  setRoom: () => 'redrew the room',
  addPlace: (op) => `added ${op.place.code}`,
  editPlace: (op, say) => `changed ${say.place(op.placeId)}`,
  removePlace: (op, say) => `removed ${say.place(op.placeId)}`,
  closePlace: (op, say) =>
    op.until === null
      ? `put ${say.place(op.placeId)} back into use`
      : `took ${say.place(op.placeId)} out of use until ${sayDate(op.until, 'short')}`,
  addPerson: (op) => `added ${op.person.name}`,
  editPerson: (op, say) => `changed ${say.person(op.personId)}’s entry`,
  setPattern: (op, say) => `set ${say.person(op.personId)}’s weekly pattern`,
  setException: (op, say) =>
    op.exception === null
      ? `took back ${say.person(op.personId)}’s exception on ${sayDate(op.date, 'short')}`
      : `marked ${say.person(op.personId)} ${op.exception} on ${sayDate(op.date, 'short')}`,
  setSpells: (op, say) => `set ${say.person(op.personId)}’s terms and holidays`,
  takeCalendar: () => 'laid their calendar over their days',
  tickInduction: (op, say) =>
    `${op.isDone ? 'ticked' : 'took back'} an item of the induction for ${op.personIds.length === 1 ? say.person(op.personIds[0]) : sayCount(op.personIds.length, 'person', 'people')}`,
  markNoShow: (op, say) =>
    op.isNoShow
      ? `noted that ${say.person(op.personId)} did not come`
      : `took back that ${say.person(op.personId)} did not come`,
  signOff: (op, say) => `signed ${say.person(op.personId)} off for ${say.technique(op.techniqueId)}, level ${op.level}`,
  askSignOff: (op, say) => `asked for a sign-off in ${say.technique(op.techniqueId)}`,
  dropSignOffAsk: () => 'took back a question for sign-off',
  attend: (op, say) =>
    op.state === null
      ? `cleared ${say.person(op.personId)}’s attendance`
      : `ticked ${say.person(op.personId)} ${op.state === 'late' && op.dueAt ? `late, due ${op.dueAt}` : op.state}`,
  setContact: (op, say) => `changed how to reach ${say.person(op.contact.id)}`,
  writePrivateNote: () => 'wrote a private note',
  addJacket: (op) => `took in ${op.jacket.fieldNumber}`,
  editJacket: (op, say) => `changed ${say.piece(op.pieceId)}`,
  addSpecimen: (op) => `added ${op.specimen.number}`,
  editSpecimen: (op, say) => `changed ${say.piece(op.pieceId)}`,
  setCeiling: (op, say) =>
    `set the ceiling of ${say.piece(op.pieceId)} to ${say.technique(op.techniqueId)}: ${op.reason}`,
  escalate: (op, say) => `opened ${say.technique(op.techniqueId)} on ${say.piece(op.pieceId)}: ${op.reason}`,
  endEscalation: (op, say, records) =>
    `ended the escalation on ${say.piece(records.escalation.get(op.escalationId)?.pieceId)}`,
  openJacket: (op, say) => `opened ${say.piece(op.pieceId)}`,
  emptyJacket: (op, say) => `marked ${say.piece(op.pieceId)} empty`,
  moveStage: (op, say) => `moved ${say.piece(op.pieceId)} to ${op.stage}`,
  shelve: (op, say) =>
    op.placeId === null
      ? `shelved ${say.piece(op.pieceId)}${op.shelf ? ` at ${op.shelf}` : ''}`
      : `brought ${say.piece(op.pieceId)} to ${say.place(op.placeId)}`,
  addStep: (op, say) => `added “${op.step.title}” to ${say.piece(op.step.pieceId)}`,
  editStep: (op, say) => `changed “${say.step(op.stepId)}”`,
  dropStep: (op, say) => `dropped “${say.step(op.stepId)}”`,
  finishStep: (op, say) => `finished “${say.step(op.stepId)}”`,
  startClock: (op, say) => `began ${op.clock.what} on ${say.piece(op.clock.pieceId)}`,
  moveClock: (op, say, records) => `moved the end of ${clockWords(records, op.clockId, say)} to ${op.ends.time}`,
  endClock: (op, say, records) => `ended ${clockWords(records, op.clockId, say)}`,
  dropClock: (op, say, records) => `took ${clockWords(records, op.clockId, say)} off as entered wrongly`,
  reopenStep: (op, say) => `reopened “${say.step(op.stepId)}”`,
  askDue: (op, say) => `asked for ${sayDate(op.date, 'short')} on ${say.piece(op.pieceId)}`,
  answerDue: (op, say, records) =>
    `${op.accept ? 'accepted' : 'declined'} the date of ${say.piece(records.due.get(op.dueId)?.pieceId)}`,
  moveDue: (op, say, records) =>
    `moved the date of ${say.piece(records.due.get(op.dueId)?.pieceId)} to ${sayDate(op.date, 'short')}`,
  endDue: (op, say, records) => `marked the date of ${say.piece(records.due.get(op.dueId)?.pieceId)} ${op.state}`,
  noteOutlooks: (op) => `noted ${sayCount(op.outlooks.length, 'chance')} of dates`,
  watch: (op, say) => `began to follow ${say.piece(op.pieceId)}`,
  unwatch: (op, say) => `stopped following ${say.piece(op.pieceId)}`,
  askQuestion: (op, say) => `asked about ${say.piece(op.pieceId)}`,
  answerQuestion: (op, say, records) =>
    `answered a question on ${say.piece(records.question.get(op.questionId)?.pieceId)}`,
  rest: (op, say) => `laid ${say.piece(op.pieceId)} to rest in the archive`,
  bringBack: (op, say) => `brought ${say.piece(op.pieceId)} back from the archive`,
  importRows: (op) => `brought in ${sayCount(op.jackets.length, 'row')} of a spreadsheet`,
  undoImport: (op) => `took ${sayCount(op.pieceIds.length, 'row')} of an import back out`,
  assess: (op, say) => `assessed ${say.piece(op.assessment.pieceId)}`,
  relate: (op, say) => `noted that ${op.relation.pieceIds.map((id) => say.piece(id)).join(' and ')} belong together`,
  endRelation: (op, say, records) => `ended a relation of ${say.piece(records.relation.get(op.ends)?.pieceIds[0])}`,
  measureLift: (op, say) => `measured a lift of ${say.piece(op.lift.pieceId)}`,
  house: (op, say) => `housed ${say.piece(op.housing.pieceId)} in a ${op.housing.form}`,
  setRack: (op) =>
    op.ratedKg === null ? `took the rating of ${op.name} away` : `rated ${op.name} for ${sayKg(op.ratedKg)}`,
  handOver: (op, say) => `handed ${say.piece(op.pieceId)} over to ${op.said.holder}`,
  hold: (op, say) => `held ${say.person(op.personId)} on ${say.piece(op.pieceId)} at ${say.place(op.placeId)}`,
  unhold: (op, say, records) => {
    const held = records.hold.get(op.holdId)
    return held ? `let go of ${say.person(held.personId)} on ${say.piece(held.pieceId)}` : 'let go of a hold'
  },
  forbid: (op, say) => `forbade ${say.person(op.forbid.personId)} ${forbidden(op.forbid, say)}`,
  allow: (op, say, records) => {
    const forbid = records.forbid.get(op.forbidId)
    return forbid ? `allowed ${say.person(forbid.personId)} ${forbidden(forbid, say)}` : 'took back a forbid'
  },
  post: (op) => `posted ${sayDate(op.date, 'long')}: ${sayCount(op.assignments.length, 'seat')}`,
  seat: (op, say) => `seated ${say.person(op.personId)} at ${say.place(op.placeId)} on ${say.piece(op.pieceId)}`,
  unseat: (op, say, records) => `freed ${seatWords(records, op.assignmentId, say)}`,
  claim: (op, say) => `claimed ${say.piece(op.pieceId)} at ${say.place(op.placeId)}`,
  unclaim: (op, say, records) => {
    const claimed = records.assignment.get(op.assignmentId)
    return claimed ? `gave ${say.piece(claimed.pieceId)} back` : 'gave a claim back'
  },
  seenReseat: () => 'saw a change of seat',
  beginDay: (op) => `began ${sayDate(op.date, 'long')}`,
  keepForecasts: (op) => `kept ${sayCount(op.forecasts.length, 'forecast')}`,
  start: () => 'started work',
  pause: () => 'paused',
  resume: () => 'went on',
  finish: (op, say, records) => {
    const work = records.work.get(op.workId)
    return work ? `finished for now on ${say.piece(work.pieceId)}` : 'finished for now'
  },
  correctLog: (op, say) => `corrected a log on ${say.piece(op.pieceId)}`,
  write: (op, say) => `wrote into the record of ${say.piece(op.pieceId)}`,
  correctEntry: (op, say) => `corrected an entry on ${say.piece(op.pieceId)}`,
  setCheck: (op) => `${op.check.isActive ? 'set' : 'ended'} the check “${op.check.name}”`,
  doCheck: (op, say) => `${op.result === 'good' ? 'checked' : 'found a fault at'} “${say.check(op.checkId)}”`,
  reportIncident: () => 'told of an incident',
  addSample: () => 'kept an air sample',
  acknowledge: () => 'read the cautions',
  measureFragments: (op, say) => `measured ${sayCount(op.fragments.length, 'fragment')} of ${say.piece(op.pieceId)}`,
  tryPair: (op, say) =>
    `held fragments ${op.pair.join(' and ')} of ${say.piece(op.pieceId)} together: ${sayTried[op.result]}`,
  joinPair: (op, say) => `${sayJoined[op.state]} fragments ${op.pair.join(' and ')} of ${say.piece(op.pieceId)}`,
  setMaterial: (op) => `wrote ${op.material.name} into the list of materials`,
  makeBatch: (op, say) =>
    `${op.batch.thinnedFrom ? 'thinned' : op.batch.solventId === null ? 'took in' : 'made up'} a batch of ${say.material(op.batch.materialId)}`,
  endBatch: (op, say) => `${op.why === null ? 'took back the end of' : `noted as ${op.why}:`} ${say.batch(op.batchId)}`,
  drawStroke: (op, say) => `drew on the exposure map of ${say.piece(op.pieceId)}`,
  wipeStroke: (op, say) => `wiped a stroke out of the exposure map of ${say.piece(op.pieceId)}`,
  addPhoto: (op, say) => `added a photograph to ${say.piece(op.pieceId)}`,
  correctPhoto: (op, say) => `${op.withdrawn ? 'withdrew' : 'corrected'} a photograph of ${say.piece(op.pieceId)}`,
  offerSwap: (op, say, records) => `offered ${seatWords(records, op.assignmentId, say)} to others`,
  dropSwap: () => 'took an offered turn back',
  erasePerson: (op, say) => `took ${say.person(op.personId)}’s private data out`,
  takeSwap: (op, say, records) => `took over ${seatWords(records, op.swapId, say)}`,
}

const sayTried = { fit: 'they fit', 'no fit': 'no fit', unsure: 'not sure' } as const
const sayJoined = { trial: 'joined, dry,', glued: 'glued', undone: 'took apart' } as const

/** What an op did, as it follows its author's name in the history: `claimed MC20-051 at M3`. */
export function sayOp(op: Op, records: Records): string {
  // The table has one function per kind, made for that kind's op.
  const say = told[op.kind] as (op: Op, say: Names, records: Records) => string
  return say(op, namesIn(records), records)
}

/** The label of the undo button: `Take back: you claimed MC20-051 at M3`. */
export const sayUndo = (op: Op, records: Records): string => `Take back: you ${sayOp(op, records)}`

function forbidden(
  forbid: {
    readonly pieceId: string | null
    readonly placeId: string | null
    readonly withPersonId: string | null
    readonly date: string | null
  },
  say: Names,
): string {
  const parts = [
    forbid.pieceId === null ? '' : `with ${say.piece(forbid.pieceId)}`,
    forbid.placeId === null ? '' : `at ${say.place(forbid.placeId)}`,
    forbid.withPersonId === null ? '' : `beside ${say.person(forbid.withPersonId)}`,
    forbid.date === null ? '' : `on ${sayDate(forbid.date, 'short')}`,
  ]
  return parts.filter((part) => part !== '').join(' ')
}

function seatWords(records: Records, assignmentId: string, say: Names): string {
  const seat = records.assignment.get(assignmentId)
  return seat ? `${say.person(seat.personId)}’s seat at ${say.place(seat.placeId)}` : 'a seat'
}

function clockWords(records: Records, clockId: string, say: Names): string {
  const clock = records.clock.get(clockId)
  return clock ? `${clock.what} of ${say.piece(clock.pieceId)}` : 'a clock'
}
