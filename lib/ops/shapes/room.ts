// The acts on the lab itself: its settings, the room as drawn, and the places in it.
import * as z from 'zod/mini'
import { Lab, LocalDate, OpId, OptionalLine, Place, PlaceId, Room } from '#lib/words'

/** Changes settings of the lab; fields that are left out stay. */
export const SetLab = z.strictObject({
  id: OpId,
  kind: z.literal('setLab'),
  patch: z.partial(z.omit(Lab, { id: true, isDemo: true })),
})

/** Draws the room anew. */
export const SetRoom = z.strictObject({ id: OpId, kind: z.literal('setRoom'), room: Room })

export const AddPlace = z.strictObject({ id: OpId, kind: z.literal('addPlace'), place: Place })

/** Moves or changes a place; closing it is an act of its own. */
export const EditPlace = z.strictObject({
  id: OpId,
  kind: z.literal('editPlace'),
  placeId: PlaceId,
  patch: z.partial(z.omit(Place, { id: true, closedUntil: true, closedReason: true })),
})

export const RemovePlace = z.strictObject({ id: OpId, kind: z.literal('removePlace'), placeId: PlaceId })

/** Takes a place out of use until a date (that day it is in use again), or back into use (null). */
export const ClosePlace = z.strictObject({
  id: OpId,
  kind: z.literal('closePlace'),
  placeId: PlaceId,
  until: z.nullable(LocalDate),
  reason: OptionalLine,
})
