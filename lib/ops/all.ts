// Every act in one table. The type says that none is missing and each has its own form.
import { bringBack, rest } from './archive.ts'
import { assess } from './assess.ts'
import { beginDay } from './begin-day.ts'
import { endEscalation, escalate, moveStage, setCeiling } from './care.ts'
import { dropClock, endClock, moveClock, startClock } from './clocks.ts'
import { answerDue, askDue, endDue, moveDue, noteOutlooks } from './dues.ts'
import { erasePerson } from './erase.ts'
import { keepForecasts } from './forecasts.ts'
import { handOver } from './hand-over.ts'
import { house, setRack } from './housing.ts'
import { importRows, undoImport } from './import.ts'
import { tickInduction } from './induction.ts'
import { joinPair, measureFragments, tryPair } from './joins.ts'
import { setLab, setRoom } from './lab.ts'
import { measureLift } from './lifts.ts'
import { endBatch, makeBatch, setMaterial } from './materials.ts'
import type { OpDef } from './op.ts'
import { addPerson, askSignOff, dropSignOffAsk, editPerson, setContact, signOff, writePrivateNote } from './people.ts'
import { addPhoto, correctPhoto } from './photos.ts'
import { addJacket, addSpecimen, editJacket, editSpecimen, emptyJacket, openJacket } from './pieces.ts'
import { addPlace, closePlace, editPlace, removePlace } from './places.ts'
import { post } from './post.ts'
import { attend, markNoShow, setException, setPattern, setSpells, takeCalendar } from './presence.ts'
import { answerQuestion, askQuestion, unwatch, watch } from './questions.ts'
import { correctEntry, correctLog, write } from './records.ts'
import { endRelation, relate } from './relations.ts'
import { seenReseat } from './reseats.ts'
import { acknowledge, addSample, doCheck, reportIncident, setCheck } from './safety.ts'
import { claim, seat, unclaim, unseat } from './seats.ts'
import type { OpKind } from './shapes/index.ts'
import { shelve } from './shelve.ts'
import { addStep, dropStep, editStep, finishStep, reopenStep } from './steps.ts'
import { drawStroke, wipeStroke } from './strokes.ts'
import { dropSwap, offerSwap, takeSwap } from './swaps.ts'
import { allow, forbid, hold, unhold } from './wishes.ts'
import { finish, pause, resume, start } from './work.ts'

/** One definition per kind of op. */
export const ops: { readonly [K in OpKind]: OpDef<K> } = {
  setLab,
  setRoom,
  addPlace,
  editPlace,
  removePlace,
  closePlace,
  addPerson,
  editPerson,
  setPattern,
  setException,
  setSpells,
  takeCalendar,
  tickInduction,
  markNoShow,
  signOff,
  askSignOff,
  dropSignOffAsk,
  attend,
  setContact,
  writePrivateNote,
  addJacket,
  editJacket,
  addSpecimen,
  editSpecimen,
  setCeiling,
  escalate,
  endEscalation,
  openJacket,
  emptyJacket,
  moveStage,
  shelve,
  addStep,
  editStep,
  dropStep,
  finishStep,
  reopenStep,
  startClock,
  moveClock,
  endClock,
  dropClock,
  askDue,
  answerDue,
  moveDue,
  endDue,
  noteOutlooks,
  watch,
  unwatch,
  askQuestion,
  answerQuestion,
  rest,
  bringBack,
  importRows,
  undoImport,
  assess,
  relate,
  endRelation,
  house,
  setRack,
  handOver,
  hold,
  unhold,
  forbid,
  allow,
  post,
  seat,
  unseat,
  claim,
  unclaim,
  seenReseat,
  beginDay,
  keepForecasts,
  start,
  pause,
  resume,
  finish,
  correctLog,
  write,
  correctEntry,
  setCheck,
  doCheck,
  reportIncident,
  addSample,
  measureLift,
  acknowledge,
  measureFragments,
  tryPair,
  joinPair,
  setMaterial,
  makeBatch,
  endBatch,
  addPhoto,
  correctPhoto,
  drawStroke,
  wipeStroke,
  offerSwap,
  dropSwap,
  takeSwap,
  erasePerson,
}
