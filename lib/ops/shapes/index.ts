// Every act's form in one table: what may come in at the door, and the types everything else is written in.
import type * as z from 'zod/mini'
import * as clocks from './clocks.ts'
import * as crew from './crew.ts'
import * as custody from './custody.ts'
import * as day from './day.ts'
import * as imports from './import.ts'
import * as joins from './joins.ts'
import * as materials from './materials.ts'
import * as people from './people.ts'
import * as photos from './photos.ts'
import * as pieces from './pieces.ts'
import * as room from './room.ts'
import * as safety from './safety.ts'
import * as strokes from './strokes.ts'
import * as work from './work.ts'

/** One schema per kind of op. */
export const opSchemas = {
  setLab: room.SetLab,
  setRoom: room.SetRoom,
  addPlace: room.AddPlace,
  editPlace: room.EditPlace,
  removePlace: room.RemovePlace,
  closePlace: room.ClosePlace,
  addPerson: people.AddPerson,
  editPerson: people.EditPerson,
  setPattern: people.SetPattern,
  setException: people.SetException,
  setSpells: people.SetSpells,
  takeCalendar: people.TakeCalendar,
  tickInduction: people.TickInduction,
  markNoShow: people.MarkNoShow,
  signOff: people.SignOff,
  askSignOff: people.AskSignOff,
  dropSignOffAsk: people.DropSignOffAsk,
  attend: people.Attend,
  setContact: people.SetContact,
  writePrivateNote: people.WritePrivateNote,
  addJacket: pieces.AddJacket,
  editJacket: pieces.EditJacket,
  addSpecimen: pieces.AddSpecimen,
  editSpecimen: pieces.EditSpecimen,
  setCeiling: pieces.SetCeiling,
  escalate: pieces.Escalate,
  endEscalation: pieces.EndEscalation,
  openJacket: pieces.OpenJacket,
  emptyJacket: pieces.EmptyJacket,
  moveStage: pieces.MoveStage,
  shelve: pieces.Shelve,
  addStep: pieces.AddStep,
  editStep: pieces.EditStep,
  dropStep: pieces.DropStep,
  finishStep: pieces.FinishStep,
  reopenStep: pieces.ReopenStep,
  startClock: clocks.StartClock,
  moveClock: clocks.MoveClock,
  endClock: clocks.EndClock,
  dropClock: clocks.DropClock,
  askDue: pieces.AskDue,
  answerDue: pieces.AnswerDue,
  moveDue: pieces.MoveDue,
  endDue: pieces.EndDue,
  noteOutlooks: pieces.NoteOutlooks,
  watch: pieces.WatchPiece,
  unwatch: pieces.UnwatchPiece,
  askQuestion: pieces.AskQuestion,
  answerQuestion: pieces.AnswerQuestion,
  rest: pieces.RestPiece,
  bringBack: pieces.BringBack,
  importRows: imports.ImportRows,
  undoImport: imports.UndoImport,
  assess: custody.Assess,
  relate: custody.Relate,
  endRelation: custody.EndRelation,
  house: custody.House,
  setRack: custody.SetRack,
  handOver: custody.HandOver,
  hold: day.HoldTurn,
  unhold: day.Unhold,
  forbid: day.ForbidTurn,
  allow: day.AllowTurn,
  post: day.Post,
  seat: day.Seat,
  unseat: day.Unseat,
  claim: day.Claim,
  unclaim: day.Unclaim,
  seenReseat: day.SeenReseat,
  beginDay: day.BeginDay,
  keepForecasts: day.KeepForecasts,
  start: work.Start,
  pause: work.Pause,
  resume: work.Resume,
  finish: work.Finish,
  correctLog: work.CorrectLog,
  write: work.Write,
  correctEntry: work.CorrectEntry,
  setCheck: safety.SetCheck,
  doCheck: safety.DoCheck,
  reportIncident: safety.ReportIncident,
  addSample: safety.AddSample,
  measureLift: safety.MeasureLift,
  acknowledge: safety.Acknowledge,
  measureFragments: joins.MeasureFragments,
  tryPair: joins.TryPair,
  joinPair: joins.JoinPair,
  setMaterial: materials.SetMaterial,
  makeBatch: materials.MakeBatch,
  endBatch: materials.EndBatch,
  addPhoto: photos.AddPhoto,
  correctPhoto: photos.CorrectPhoto,
  drawStroke: strokes.DrawStroke,
  wipeStroke: strokes.WipeStroke,
  offerSwap: crew.OfferSwap,
  dropSwap: crew.DropSwap,
  takeSwap: crew.TakeSwap,
  erasePerson: crew.ErasePerson,
} as const

export type OpKind = keyof typeof opSchemas

/** The op of one kind. */
export type OpOf<K extends OpKind> = Readonly<z.infer<(typeof opSchemas)[K]>>

/** Any op: `{ id, kind, … }`. */
export type Op = { [K in OpKind]: OpOf<K> }[OpKind]

/** An op before it has its id: what a screen says is to be done. */
export type OpBody = { [K in OpKind]: Omit<OpOf<K>, 'id'> }[OpKind]
